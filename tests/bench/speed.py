"""Inner loops beside plain ones, as a table with the machine's facts and a
picture.

    speed.py BENCH FOLDER PICTURE

BENCH is the program made from speed.c, FOLDER a season made by league.py.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import subprocess
import sys

from ratios import draw, facts

# largest ratio own/other, or time [ms], that is aimed at; by order of BENCH
TARGETS = [("ratio", 2), (None, None), ("ratio", 1.5), ("ms", 50),
           ("ms", 2000)]


def main():
    bench, folder, picture = sys.argv[1:]
    done = subprocess.run([bench, folder], stdout=subprocess.PIPE, text=True,
                          check=True)
    rows, missed = [], []
    for line, (kind, most) in zip(done.stdout.splitlines(), TARGETS):
        what, own, other, who = line.split("\t")
        own, other = float(own), float(other)
        ratio = own / other
        rows.append((what, own, other, who, ratio))
        if kind and (ratio if kind == "ratio" else own) > most:
            missed.append(f"{what}: aimed at "
                          f"{most} {'times' if kind == 'ratio' else 'ms'}")
    print(facts())
    print("Medians of 7 runs in turn, processor time of one core\n")
    print(f"{'':44}{'ms':>9}{'other ms':>10}{'ratio':>8}")
    for what, own, other, who, ratio in rows:
        print(f"{what:44}{own:9.2f}{other:10.2f}{ratio:8.2g}")
        print(f"    {who}")
    draw([(what, who, ratio, most if kind == "ratio" else None)
          for (what, _, _, who, ratio), (kind, most) in zip(rows, TARGETS)],
         picture)
    for miss in missed:
        print("Missed:", miss)


main()
