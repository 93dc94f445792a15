"""What the benches share: the facts of the machine, and a picture of ratios.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import platform
import subprocess


def facts():
    model = "processor not known"
    with open("/proc/cpuinfo", encoding="utf-8") as info:
        for line in info:
            if line.startswith("model name"):
                model = line.split(":", 1)[1].strip()
    compiler = subprocess.run(["gcc", "-dumpfullversion"], text=True,
                              capture_output=True, check=True).stdout.strip()
    return (f"{model}, {os.cpu_count()} processors, load "
            f"{os.getloadavg()[0]:.1f}; Linux {platform.release()}, "
            f"gcc {compiler}")


def draw(rows, picture):
    """Rows of (what, beside what, own time / the other's)."""
    names = "\n".join(f'"{what}\\nbeside: {who}" {ratio}'
                      for what, who, ratio in rows)
    script = f"""set terminal svg size 900,{120 + 60 * len(rows)} \\
    font "DejaVu Sans,12"
set output "{picture}"
set title "Own time as a multiple of the other's ({facts()})" font ",10"
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
    print(f"\nPicture: {picture}")
