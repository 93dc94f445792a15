#!/usr/bin/python3
"""What was forecast on the day of issue is what plan.csv keeps: computed anew
from the same files it is the same, for one event and for several; once a test
and a session of days before are typed in and the squad is divided, the forecast
kept and the load planned stay, and a forecast computed anew does not.

    plan_record.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import math
import shutil
import subprocess
import sys

program = sys.argv[1]


def run(*words):
    return subprocess.run([program, *words, "--quiet"], check=True,
                          capture_output=True, text=True).stdout


def on_record(folder, *words):
    return {(r["athlete"], r["quantity"], r["week"]):
            (r["planned"], r["forecast_from"])
            for r in csv.DictReader(io.StringIO(run("review", folder, "--csv",
                                                    *words)))
            if r["quantity"] in ("load", "sets", "forecast", "low", "high")}


def without_forecast(folder):
    away = folder + "-anew"
    shutil.copytree(folder, away)
    with open(f"{folder}/plan.csv", encoding="utf8") as file:
        reader = csv.DictReader(file)
        old = [n for n in reader.fieldnames
               if n != "version" and not n.startswith("forecast")]
        with open(f"{away}/plan.csv", "w", encoding="utf8") as to:
            out = csv.DictWriter(to, old, extrasaction="ignore")
            out.writeheader()
            out.writerows(reader)
    return away


def typed_in_later(folder):
    away = folder + "-later"
    shutil.copytree(folder, away)
    with open(f"{away}/tests.csv", "a", encoding="utf8") as file:
        file.write("2026-03-11,wing-07,Jump height (cm),45,1,higher,before\n")
    with open(f"{away}/sessions.csv", "a", encoding="utf8") as file:
        file.write("2026-03-13,wing-07,Match,match,90,10\n")
    with open(f"{away}/athletes.csv", encoding="utf8") as file:
        names = list(csv.DictReader(file))
    with open(f"{away}/athletes.csv", "w", encoding="utf8") as file:
        out = csv.DictWriter(file, [*names[0], "squad"])
        out.writeheader()
        out.writerows({**r, "squad": "one" if r["athlete"] < "keeper" else "two"}
                      for r in names)
    return away


def alike(one, other, *told):
    return one.keys() == other.keys() and all(
        v[0] == other[k][0] or math.isclose(float(v[0]), float(other[k][0]),
                                            rel_tol=1e-9)
        for k, v in one.items() if k[1] in told)


ISSUED = ("--today", "2026-03-15")
FIGURES = ("load", "sets", "forecast", "low", "high")
for name, *words in (("one",), ("both", "--joint"), ("missed", "--missed", "2026-03-18"),
                     ("lowest", "--aim", "lowest"), ("test", "--test", "Sprint 30 m (s)")):
    handed = f"{sys.argv[2]}/{name}"
    shutil.copytree("data/demo", handed)
    run("plan", handed, *words, *ISSUED, "--hand-out")
    again = words if name in ("lowest", "test") else ()
    kept = on_record(handed, *again)
    moved = typed_in_later(handed)
    print(name, len(kept) == 8 * 7,
          {v[1] for k, v in kept.items() if k[1] == "forecast"},
          alike(kept, on_record(without_forecast(handed), *again), *FIGURES),
          alike(kept, on_record(moved), *FIGURES),
          alike(kept, on_record(without_forecast(moved), *again), "forecast"))
print("done")
