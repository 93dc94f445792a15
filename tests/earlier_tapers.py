#!/usr/bin/python3
"""A later event: readiness without a taper before it, by sums over days, with
the taper of the event on the way carried out and a day of recovery after it;
and with the plan handed out for the event on the way.

    earlier_tapers.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import io
import math
import re
import subprocess
import sys

program, season = sys.argv[1:3]
FIRST = datetime.date(2026, 1, 5)
TODAY, CUP, LATER = (datetime.date(2026, 3, 5), datetime.date(2026, 3, 21),
                     datetime.date(2026, 4, 11))
MODEL = ("--model", "classic", "--before", "nothing", "--today", str(TODAY))


def table(*words):
    done = subprocess.run([program, *words, "--csv", "--quiet"], check=True,
                          capture_output=True, text=True)
    return list(csv.DictReader(io.StringIO(done.stdout)))


def write(name, text):
    with open(f"{season}/{name}", "w", encoding="utf8") as file:
        file.write(text)


write("sessions.csv", "date,load\n" + "".join(
    f"{FIRST + datetime.timedelta(i)},300\n"
    for i in range((TODAY - FIRST).days + 1)))
write("events.csv", f"event,start,load_per_day\nCup,{CUP},500\n"
                    f"Later,{LATER},0\n")
write("week.csv", "weekday,session,load\n" + "".join(
    f"{d},Run,250\n" for d in "mon tue wed thu fri sat sun".split()))
p = {k: float(v) for k, v in table("models", "--model", "classic")[0].items()
     if k in ("p0", "k1", "k2", "tau1", "tau2")}


def at_later(load):
    total = p["p0"]
    day = FIRST
    while day < LATER:
        age = (LATER - day).days
        total += load(day) * (p["k1"] * math.exp(-age / p["tau1"]) -
                              p["k2"] * math.exp(-age / p["tau2"]))
        day += datetime.timedelta(1)
    return total


def cut_of(spec, before):
    """Of the day so many days before the event, for steps."""
    cut = 0
    for part in reversed([] if spec == "none" else spec.split(",")):
        days, percent = map(float, re.fullmatch(r"(\d+)d-(\d+)", part).groups())
        if 0 < before <= days:
            cut = percent / 100
        before -= days
    return cut


def none_at_later():
    return float(next(r for r in table("taper", season, "--event", "Later",
                                       *MODEL) if r["option"] == "none")
                 ["readiness"])


def planned(day, before_cup):
    if day <= TODAY:
        return 300
    if day == CUP:
        return 500
    if day < CUP:
        return before_cup(day)
    return 0 if (day - CUP).days == 1 else 250


rows = table("taper", season, "--event", "Cup", *MODEL)
spec = next(r["option"] for r in rows if "recommended" in r["tag"])
with_taper = at_later(lambda day: planned(
    day, lambda d: 250 * (1 - cut_of(spec, (CUP - d).days))))
print("tapers", spec != "none", math.isclose(none_at_later(), with_taper,
                                             rel_tol=1e-9))
subprocess.run([program, "plan", season, "--event", "Cup", "--option", "6d-40",
                "--hand-out", "--quiet", *MODEL], check=True,
               stdout=subprocess.DEVNULL)
with_plan = at_later(lambda day: planned(
    day, lambda d: 250 * (1 - cut_of("6d-40", (CUP - d).days))))
print("handed", math.isclose(none_at_later(), with_plan, rel_tol=1e-9))
