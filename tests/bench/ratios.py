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
    """Rows of (what, beside what, own time / the other's, aim or None)."""
    lines = "\n".join(f'"{what}\\nbeside: {who}" {ratio} "{ratio:.2g}"'
                      for what, who, ratio, _ in rows)
    aims = "\n".join(f"{aim} {at}" for at, (_, _, _, aim) in enumerate(rows)
                     if aim) or "NaN NaN"
    script = f"""set terminal svg size 900,{140 + 56 * len(rows)} noenhanced \\
    font "DejaVu Sans,12"
set output "{picture}"
set label 1 "{facts()}" at screen .5, screen .96 center font ",11"
set logscale x
set offsets graph 0, graph 0, .5, .5
set xlabel "own time / the other's (1: as fast)"
set yrange [{len(rows) - .5}:-.5]
set lmargin 52
set tmargin 4
set rmargin 6
set grid x
set arrow from 1, graph 0 to 1, graph 1 nohead lw 2
set key bottom right outside horizontal
$rows << EOD
{lines}
EOD
$aims << EOD
{aims}
EOD
plot $rows using 2:0:ytic(1) with points pt 7 ps 1.2 lc rgb "#303030" \\
    title "measured", \\
    $rows using 2:0:3 with labels offset 0,.9 notitle, \\
    $aims using 1:2 with points pt 2 ps 1.2 lc rgb "#303030" \\
    title "aimed at, or less"
"""
    subprocess.run(["gnuplot"], input=script, text=True, check=True)
    print(f"\nPicture: {picture}")
