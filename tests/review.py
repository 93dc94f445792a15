#!/usr/bin/python3
"""Hands out a plan, carries it out to the letter, tests at the event, and has it
reviewed: what is computed here from the files alone must be what is said.

    review.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import collections
import csv
import io
import math
import shutil
import statistics
import subprocess
import sys

from scipy.stats import norm

program, season = sys.argv[1], sys.argv[2] + "/season"
JUMP, ISSUED, EVENT = "Jump height (cm)", "2026-03-29", "2026-04-25"


def table(*words):
    done = subprocess.run([program, *words, "--csv", "--quiet"], check=True,
                          capture_output=True, text=True)
    return list(csv.DictReader(io.StringIO(done.stdout)))


def rows(name):
    with open(f"{season}/{name}", encoding="utf8") as file:
        return list(csv.DictReader(file))


shutil.copytree("data/demo", season)
tests = [r for r in rows("tests.csv") if r["test"] == JUMP]
with open(f"{season}/tests.csv", "w", encoding="utf8") as file:
    file.write("date,athlete,test,value\n")
    for r in tests:
        file.write(f"{r['date']},{r['athlete']},{JUMP},{r['value']}\n")
subprocess.run([program, "plan", season, "--hand-out", "--quiet"], check=True,
               stdout=subprocess.DEVNULL)
ready = {r["athlete"]: float(r["readiness"])
         for r in table("simulate", season) if r["date"] == EVENT}
with open(f"{season}/sessions.csv", "a", encoding="utf8") as file:
    for r in rows("plan.csv"):
        if not r["exercise"] and r["kind"] != "event" and \
                float(r["minutes"]) > 0:
            file.write(f"{r['date']},{r['athlete']},{r['session']},{r['kind']},"
                       f"{r['minutes']},"
                       f"{float(r['load']) / float(r['minutes'])}\n")
names = sorted(ready)
outcome = {a: round(ready[a] + (-1)**i * .7, 1) for i, a in enumerate(names)}
with open(f"{season}/tests.csv", "a", encoding="utf8") as file:
    for a in names:
        file.write(f"2026-04-27,{a},{JUMP},{outcome[a]}\n")

said = collections.defaultdict(dict)
same = True
for r in table("review", season, "--today", "2026-04-28"):
    if r["week"]:
        same = same and (r["quantity"] == "sets" or
                         math.isclose(float(r["planned"]), float(r["done"])))
    else:
        said[r["athlete"]][r["quantity"]] = float(r["planned"] or r["done"] or
                                                  "nan")
print("carried out", same, len(said))
own = {a: [float(r["value"]) for r in sorted(tests, key=lambda r: r["date"])
           if r["athlete"] == a] for a in names}
steps = [y - x for a in names for x, y in zip(own[a], own[a][1:])]
error = statistics.stdev(steps) / math.sqrt(2)  # Hopkins 2000
worth = .2 * statistics.stdev(statistics.fmean(own[a]) for a in names)
for a in names:
    change = outcome[a] - statistics.fmean(own[a][-3:])
    want = {"forecast": ready[a], "outcome": outcome[a],
            "error": outcome[a] - ready[a], "typical_error": error,
            "worthwhile": worth,
            "chance_better": norm.cdf((change - worth) /
                                      (error * math.sqrt(4 / 3)))}
    for key, value in want.items():
        if not math.isclose(said[a][key], value, rel_tol=1e-7, abs_tol=1e-7):
            print(a, key, said[a][key], value)
print("done")
