#!/usr/bin/python3
"""A plan handed out for several events stands as such: on the day of its issue
nothing is better for them together, and what the taper of one event alone would
change at each is the difference of what simulate tells of the two plans.

    joint_record.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import re
import shutil
import statistics
import subprocess
import sys

program, season = sys.argv[1], sys.argv[2] + "/season"
CUP, CAMP = "Regional cup", "Selection weekend"
DAYS = {CUP: ("2026-04-25", 1), CAMP: ("2026-05-08", 3)}
WHO = ("--athlete", "pivot-05")


def run(*words):
    return subprocess.run([program, *words, "--quiet"], check=True,
                          capture_output=True, text=True).stdout


def table(*words):
    return list(csv.DictReader(io.StringIO(run(*words, "--csv"))))


def readiness(folder, event, aim=statistics.fmean, *words):
    """Of the event's days, their mean or their lowest."""
    start, days = DAYS[event]
    rows = table("simulate", folder, "--event", event, *WHO, *words)
    at = [i for i, r in enumerate(rows) if r["date"] == start][0]
    return aim(float(r["readiness"]) for r in rows[at:at + days])


shutil.copytree("data/demo", season)
run("plan", season, "--joint", "--hand-out")
for words in ((), WHO, ("--event", CAMP), ("--missed", "2026-03-28")):
    said = " ".join(run("taper", season, *words).split())
    print("stands", "weighs Regional cup and Selection weekend together. It "
          "stands for them together: carry it on." in said,
          "eplanning is worth" not in said)
said = " ".join(run("taper", season, *WHO).split())
here, there = re.search(r"would change readiness there by (\S+) %, at "
                        r"Selection weekend by (\S+) %", said).groups()

with open(f"{season}/plan.csv", encoding="utf8") as file:
    reader = csv.DictReader(file)
    names, rows = reader.fieldnames, list(reader)
alone = [{**r, "issued": rows[0]["issued"], "joint": "yes"}
         for r in table("plan", season, "--event", CUP, *WHO)
         if r["date"] < DAYS[CUP][0]]
other = season + "-alone"
shutil.copytree(season, other)
with open(f"{other}/plan.csv", "w", encoding="utf8") as file:
    writer = csv.DictWriter(file, names)
    writer.writeheader()
    writer.writerows(alone + [r for r in rows if r["athlete"] == WHO[1] and
                              r["date"] >= DAYS[CUP][0]])
none = [float(r["readiness"]) for r in table("taper", season, *WHO)
        if r["tag"] == "none"][0]
for event, told in ((CUP, here), (CAMP, there)):
    change = readiness(other, event) - readiness(season, event)
    print(event, abs(100 * change / none - float(told)) <= .0501,
          (change > 0) == (event == CUP))

# By the lowest of an event's days, where that is asked for.
said = " ".join(run("taper", season, *WHO, "--aim", "lowest").split())
told = re.search(r"at Selection weekend by (\S+) %", said)[1]
change = readiness(other, CAMP, min) - readiness(season, CAMP, min)
print("lowest", abs(100 * change / none - float(told)) <= .0501,
      abs(change - readiness(other, CAMP) + readiness(season, CAMP)) > .001)

# What a missed day changes is told as a share of the gain at both, weighed.
MISSED, WEIGHT = "2026-04-07", {CUP: 1, CAMP: 2}
less = season + "-less"
shutil.copytree(season, less)
with open(f"{less}/plan.csv", "w", encoding="utf8") as file:
    writer = csv.DictWriter(file, names)
    writer.writeheader()
    writer.writerows(r for r in rows
                     if r["athlete"] == WHO[1] and r["date"] != MISSED)
for words, aim in (((), statistics.fmean), (("--aim", "lowest"), min)):
    was, now, nothing = (sum(w * readiness(folder, e, aim, *more)
                             for e, w in WEIGHT.items())
                         for folder, more in ((season, ()), (less, ()),
                                              (season, ("--ignore-plan",))))
    said = " ".join(run("taper", season, *WHO, "--missed", MISSED,
                        *words).split())
    told = re.search(r"pivot-05 handed out .*? to \S+ (\S+) % ", said)[1]
    print("missed", abs(100 * (now - was) / (was - nothing) - float(told)) <= .501,
          float(told) != 0, "at Regional cup and Selection weekend together, "
          "weighed (readiness is at Regional cup)" in said)

# A sheet of the page says what stands.
run("report", season, *WHO, "--out", season + "-page")
with open(season + "-page/report.html", encoding="utf8") as file:
    print("page", "as handed out on Sun 29 Mar for Regional cup and Selection "
          "weekend together, with less training from" in
          " ".join(file.read().split()))

# The plan of one event alone is none of several, and what is weighed anew is
# weighed without it.
run("plan", season, "--event", CUP, "--hand-out", "--replace")
def weighed_anew(folder):
    return [{k: v for k, v in r.items() if k != "handed_gain"}
            for r in table("taper", folder, "--joint")]


def check_gains(name):
    """taper --joint tells what the plan handed out gains at each."""
    told = {r["event"]: float(r["handed_gain"])
            for r in table("taper", season, "--joint", *WHO)}
    print(name, all(abs(told[e] - readiness(season, e) + readiness(
        season, e, statistics.fmean, "--ignore-plan")) < 1e-8 for e in DAYS))


check_gains("at one")
print("anew", weighed_anew(season) == weighed_anew("data/demo"))
run("plan", season, "--joint", "--hand-out", "--replace")
check_gains("at both")
run("plan", season, "--event", CUP, "--hand-out", "--replace")
print("single", "together" not in run("taper", season))
