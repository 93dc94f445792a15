#!/usr/bin/python3
"""Virtual athletes against the rest of the program, which reads the same
training and tests from a season folder:

    experiment_simulate.py PEAKWARD

The true gain against `simulate` with the drawn parameters as a model file; what
is claimed and recommended from tests against `compare`. Ends with 1 when a true
gain differs by more than 1e-8 or a claim by more than 1e-6.

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


def true_gain(program, folder, run, event, *who):
    write(folder + "/model.csv",
          ["parameter,value,spread,unit,source", "kind,graded,,,drawn",
           "p0,0,,,", "k1,1,,,"] +
          [f"{name},{run[name]},,," for name in PARAMETERS])
    found = []
    for option in run["option"], "none":
        days = rows(program, "simulate", folder, "--csv", "--quiet", "--model",
                    folder + "/model.csv", "--option", option, *who)
        found += [float(r["readiness"]) for r in days if r["date"] == event]
    return found[0] - found[1]


def off(a, b):
    return abs(a - b) / (1 + abs(b))


def alone(program):
    """Without tests: the season is written here."""
    with tempfile.TemporaryDirectory() as folder:
        season(folder)
        runs = rows(program, "experiment", folder + "/design.csv", "--csv",
                    "--athletes", "4", "--seed", "3")
        worst = max(off(true_gain(program, folder, run, str(EVENT)),
                        float(run["true_gain"])) for run in runs)
    print(f"{len(runs)} runs, largest difference {worst:.2g}")
    return len(runs) == 12 and worst < 1e-8


def advised(program):
    """With tests: the season is the one that the experiment has written."""
    with tempfile.TemporaryDirectory() as folder:
        runs = [run for run in rows(
            program, "experiment", "tests/study/advised.csv", "--csv",
            "--athletes", "3", "--out", folder, "--format", "text")
            if run["error_time"] == "0" and run["adherence"] == "100"]
        squad = folder + "/first-squad"
        event = rows("cat", squad + "/events.csv")[0]["start"]
        said = {"recommended": [], "individual": ["--individual"], "8d-50": []}
        for taper, words in said.items():
            said[taper] = {r["athlete"]: r for r in rows(
                program, "compare", squad, "--csv", "--quiet", "--option",
                taper if taper == "8d-50" else "recommended", *words)}
        true = claimed = 0
        for run in runs:
            name = f"virtual-{int(run['athlete']):04d}"
            there = said[run["taper"]][name]
            assert (there["spec"] or "none") == run["option"], run
            for ours, theirs in (("claimed_gain", "gain"),
                                 ("claimed_low", "gain_low"),
                                 ("claimed_high", "gain_high")):
                claimed = max(claimed,
                              off(float(run[ours]), float(there[theirs])))
            true = max(true, off(true_gain(program, squad, run, event,
                                           "--athlete", name),
                                 float(run["true_gain"])))
    print(f"{len(runs)} advised runs, largest difference {true:.2g}, of claims "
          f"{claimed:.2g}")
    return len(runs) == 9 and true < 1e-8 and claimed < 1e-6


if __name__ == "__main__":
    good = [alone(sys.argv[1]), advised(sys.argv[1])]
    sys.exit(0 if all(good) else 1)
