"""Inner loops beside plain ones, as a table with the machine's facts and a
picture.

    speed.py BENCH FOLDER PICTURE

BENCH is the program made from speed.c, FOLDER a season made by league.py.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import platform
import subprocess
import sys

# largest ratio own/other, or time [ms], that is aimed at; by order of BENCH
TARGETS = [("ratio", 2), (None, None), ("ratio", 1.5), ("ms", 50),
           ("ms", 2000)]


def facts():
    model = "processor not known"
    with open("/proc/cpuinfo", encoding="utf-8") as info:
        for line in info:
            if line.startswith("model name"):
                model = line.split(":", 1)[1].strip()
    compiler = subprocess.run(["gcc", "-dumpfullversion"], text=True,
                              capture_output=True).stdout.strip()
    return (f"{model}, {os.cpu_count()} processors, load "
            f"{os.getloadavg()[0]:.1f}; Linux {platform.release()}, "
            f"gcc {compiler}")


def draw(rows, picture):
    names = "\n".join(f'"{what}\\nbeside: {who}" {ratio}'
                      for what, _, _, who, ratio in rows)
    script = f"""set terminal svg size 900,420 font "DejaVu Sans,12"
set output "{picture}"
set title "Time as a multiple of a plain loop's ({facts()})" font ",10"
set logscale x
set xlabel "own time / the other's (1: as fast)"
set yrange [-.5:{len(rows) - .5}] reverse
set lmargin 48
set grid x
set arrow from 1, graph 0 to 1, graph 1 nohead lw 2
$rows << EOD
{names}
EOD
plot $rows using 2:0:ytic(1) with points pt 7 ps 1.5 notitle
"""
    subprocess.run(["gnuplot"], input=script, text=True, check=True)


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
        print(f"{what:44}{own:9.2f}{other:10.2f}{ratio:8.2f}")
        print(f"    {who}")
    draw(rows, picture)
    print(f"\nPicture: {picture}")
    for miss in missed:
        print("Missed:", miss)


main()
