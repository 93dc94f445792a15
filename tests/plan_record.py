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

# A forecast of another kind than the one that is kept is computed.
other = on_record(f"{sys.argv[2]}/one", "--test", "Sprint 30 m (s)")
print({v[1] for k, v in other.items() if k[1] == "forecast"},
      all(4 < float(v[0]) < 5 for k, v in other.items() if k[1] == "forecast"))

# Tests at the event that have nothing beside them: of one who was not tested
# before, and of another kind.
alone = f"{sys.argv[2]}/alone"
shutil.copytree("data/demo", alone)
with open(f"{alone}/tests.csv", encoding="utf8") as file:
    rows = [r for r in file if ",wing-11," not in r]
with open(f"{alone}/tests.csv", "w", encoding="utf8") as file:
    file.writelines(rows)
run("plan", alone, *ISSUED, "--hand-out")
with open(f"{alone}/tests.csv", "a", encoding="utf8") as file:
    file.write("2026-04-25,wing-11,Jump height (cm),40,1,higher,before\n"
               "2026-04-25,wing-07,Sprint 30 m (s),4.4,.05,lower,before\n")
AFTER = ("--today", "2026-04-26")
said = " ".join(run("review", alone, *AFTER).split())
print("- Tested, but without a forecast to set beside it: wing-11." in said,
      "- Tested in another kind: wing-07; --test 'Sprint 30 m (s)' shows it."
      in said,
      "The range told here is wider than the plan's, since it counts the "
      "error of one test too." in said,
      "Tests were made, but no forecast stands beside them, so what came of "
      "the plan cannot be told" in
      " ".join(run("review", alone, *AFTER, "--athlete", "wing-11").split()),
      "No test of this kind was made at the event" in
      " ".join(run("review", alone, *AFTER, "--athlete", "wing-07").split()),
      "lies inside the range" in
      " ".join(run("review", alone, *AFTER, "--athlete", "wing-07", "--test",
                   "Sprint 30 m (s)").split()))
print("done")
