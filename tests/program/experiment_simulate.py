#!/usr/bin/python3
"""The true gain of virtual athletes against `simulate`, which reads the same
training from a season folder and the drawn parameters from a model file:

    experiment_simulate.py PEAKWARD

Ends with 1 when a gain differs by more than 1e-8.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import io
import subprocess
import sys
import tempfile

DAY = [400, 300, 0, 400, 300, 600, 0]  # the default pattern, Monday first
FIRST = datetime.date(2026, 1, 5)
EVENT = FIRST + datetime.timedelta(84)
LOGGED = 70
PARAMETERS = ("tau1", "tau2", "tau3", "ratio", "growth")


def rows(*words):
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    return list(csv.DictReader(io.StringIO(done.stdout)))


def write(path, lines):
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")


def season(folder):
    write(folder + "/sessions.csv", ["date,session,load"] + [
        f"{FIRST + datetime.timedelta(i)},S,{DAY[i % 7]}"
        for i in range(LOGGED)])
    names = "mon tue wed thu fri sat sun".split()
    write(folder + "/week.csv", ["weekday,session,load"] + [
        f"{name},S,{load}" for name, load in zip(names, DAY) if load])
    write(folder + "/events.csv", ["event,start", f"Cup,{EVENT}"])
    write(folder + "/design.csv", ["factor,values",
                                   'taper,"14d-50;3d-100;7d-50,7d-75"'])


def readiness(program, folder, option):
    found = [r for r in rows(program, "simulate", folder, "--csv", "--quiet",
                             "--model", folder + "/model.csv", "--option",
                             option) if r["date"] == str(EVENT)]
    return float(found[0]["readiness"])


def main(program):
    worst = 0
    with tempfile.TemporaryDirectory() as folder:
        season(folder)
        runs = rows(program, "experiment", folder + "/design.csv", "--csv",
                    "--athletes", "4", "--seed", "3")
        for run in runs:
            write(folder + "/model.csv",
                  ["parameter,value,spread,unit,source", "kind,graded,,,drawn",
                   "p0,0,,,", "k1,1,,,"] +
                  [f"{name},{run[name]},,," for name in PARAMETERS])
            gain = (readiness(program, folder, run["option"]) -
                    readiness(program, folder, "none"))
            off = abs(gain - float(run["true_gain"])) / (1 + abs(gain))
            worst = max(worst, off)
    print(f"{len(runs)} runs, largest difference {worst:.2g}")
    return 0 if len(runs) == 12 and worst < 1e-8 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
