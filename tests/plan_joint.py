#!/usr/bin/python3
"""One plan for two events: before each its days are those of the taper that
taper --joint tells, the day after the first is for recovery, and handed out it
is read again as it was.

    plan_joint.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import math
import shutil
import subprocess
import sys

program, season = sys.argv[1], sys.argv[2] + "/season"
EVENTS = [("Regional cup", "2026-04-25"), ("Selection weekend", "2026-05-08")]
KEYS = ("athlete", "date", "session", "exercise", "sets", "minutes", "load")


def table(*words):
    done = subprocess.run([program, *words, "--csv", "--quiet"], check=True,
                          capture_output=True, text=True)
    return list(csv.DictReader(io.StringIO(done.stdout)))


def key(row):
    return tuple(row[k] for k in KEYS)


shutil.copytree("data/demo", season)
with open(f"{season}/week.csv", "a", encoding="utf8") as file:
    file.write("sun,Long run,conditioning,60,4,\n")  # on the day after the cup
who = ("--athlete", "pivot-05")
spec = {r["event"]: r["option"]
        for r in table("taper", season, "--joint", *who)}
joint = table("plan", season, "--joint", *who)
print("once", len({key(r) for r in joint}) == len(joint),
      any(r["date"] == "2026-04-26" for r in joint),
      any(r["date"] == "2026-04-19" and r["session"] == "Long run"
          for r in joint))
first = table("plan", season, "--event", EVENTS[0][0], "--option",
              spec[EVENTS[0][0]], *who)
print("first", [key(r) for r in joint if r["date"] <= EVENTS[0][1]] ==
      [key(r) for r in first if r["date"] <= EVENTS[0][1]])
second = table("plan", season, "--event", EVENTS[1][0], "--option",
               spec[EVENTS[1][0]], *who)
print("second", [key(r) for r in joint if r["date"] > EVENTS[0][1]] ==
      [key(r) for r in second if r["date"] > EVENTS[0][1]])
subprocess.run([program, "plan", season, "--joint", "--hand-out", "--quiet",
                *who], check=True, stdout=subprocess.DEVNULL)
with open(f"{season}/plan.csv", encoding="utf8") as file:
    print("kept", [key(r) for r in csv.DictReader(file)] ==
          [key(r) for r in joint])
load = {}
for r in joint:
    if not r["exercise"]:
        load[r["date"]] = load.get(r["date"], 0) + float(r["load"])
print("read", all(
    math.isclose(float(r["load"]), load.get(r["date"], 0), rel_tol=1e-9,
                 abs_tol=1e-9)
    for r in table("simulate", season, "--event", EVENTS[1][0], *who)
    if "2026-03-29" < r["date"] < "2026-05-11"))
