#!/usr/bin/python3
"""One plan of a squad for two events: every session of the team has one figure
for all, cut by the taper that most of them have before that event; sessions of
their own follow their own; the sheet's forecast is the readiness that simulate
tells of the plan once it is handed out, and review forecasts the same.

    plan_joint_squad.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import io
import math
import re
import shutil
import subprocess
import sys

program, season = sys.argv[1], sys.argv[2] + "/season"
DAYS = {"Regional cup": ("2026-04-25", 1),
        "Selection weekend": ("2026-05-08", 3)}
TEAM, OWN = ("Court", "Run"), ("Solo",)
STEPS = ("--joint", "--shapes", "step,rest")  # cuts alike on all their days


def run(*words):
    return subprocess.run([program, *words, "--quiet"], check=True,
                          capture_output=True, text=True).stdout


def table(*words):
    return list(csv.DictReader(io.StringIO(run(*words, "--csv"))))


def spec(option):
    """Days and share cut of a step; none has no days."""
    found = re.fullmatch(r"(\d+)d-([\d.]+)", option)
    return (int(found[1]), float(found[2]) / 100) if found else (0, 0)


def minutes(row, option, event):
    """Of a session without exercises: to 5 min, 15 at least unless it rests."""
    days, cut = spec(option)
    usual, away = float(row["usual_minutes"]), (
        datetime.date.fromisoformat(DAYS[event][0]) -
        datetime.date.fromisoformat(row["date"])).days
    if away > days or cut == 0:
        return usual
    if cut == 1:
        return 0
    return min(usual, max(15, 5 * math.floor(usual * (1 - cut) / 5 + .5)))


shutil.copytree("data/demo", season)
with open(f"{season}/week.csv", "w", encoding="utf8") as file:
    file.write("weekday,session,kind,minutes,rpe,team\n"
               "mon,Solo,conditioning,60,6,no\ntue,Court,skill,90,5,yes\n"
               "wed,Solo,conditioning,50,6,no\nthu,Court,skill,90,5,yes\n"
               "thu,Run,conditioning,35,7.5,yes\nfri,Solo,skill,50,4,no\n")
option = {(r["athlete"], r["event"]): r["option"]
          for r in table("taper", season, *STEPS)}
people = {athlete for athlete, _ in option}
most = {}
for event in DAYS:
    all_of = [option[a, event] for a in sorted(people)]
    most[event] = max(set(all_of), key=all_of.count)
plan = [r for r in table("plan", season, *STEPS) if r["kind"] != "event"]
good = {name: True for name in TEAM + OWN}
for row in plan:
    event = "Regional cup" if row["date"] < "2026-04-25" else \
        "Selection weekend"
    by = most[event] if row["session"] in TEAM else \
        option[row["athlete"], event]
    if row["date"] != "2026-04-26":
        good[row["session"]] &= float(row["minutes"] or 0) == \
            minutes(row, by, event)
print("cut", good, len({v for (_, e), v in option.items()}) > 1)
figures = {}
for row in plan:
    if row["session"] in TEAM:
        figures.setdefault((row["date"], row["session"]), set()).add(
            row["minutes"])
print("alike", all(len(f) == 1 for f in figures.values()), len(figures) > 10)

sheet = " ".join(run("plan", season, *STEPS, "--athlete", "back-14").split())
run("plan", season, *STEPS, "--hand-out")

def forecast(*words):
    rows = table("review", season, "--athlete", "back-14", *words)
    return [float(r["planned"]) for r in rows if r["quantity"] == "forecast"]


# The review is of the first event until the second has begun.
for event, (start, days) in DAYS.items():
    rows = table("simulate", season, "--event", event, "--athlete", "back-14")
    at = [i for i, r in enumerate(rows) if r["date"] == start][0]
    mean = sum(float(r["readiness"]) for r in rows[at:at + days]) / days
    told = re.search(rf"{event}: readiness (\S+) \(90 % range", sheet)[1]
    print("told", event, abs(float(told) - mean) <= .00501)
    print("review", [abs(f - mean) < 1e-6
                     for f in forecast("--event", event) + forecast()])
