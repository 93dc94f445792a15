#!/usr/bin/python3
"""Random seasons: what must change nothing changes no byte of what simulate and
load --ahead say.

    weeks_to_come.py PROGRAM FOLDER SEASONS

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import os
import random
import subprocess
import sys

program, folder, seasons = sys.argv[1], sys.argv[2], int(sys.argv[3])
DAYS = "mon tue wed thu fri sat sun".split()
TODAY = datetime.date(2026, 3, 8)  # a Sunday
PEOPLE = ("ada", "bea")


def day(n):
    return str(TODAY + datetime.timedelta(n))


def write(season, name, text):
    with open(f"{season}/{name}", "w", encoding="utf8") as file:
        file.write(text)


def draw(season):
    """A log, a usual week with a match and a row to keep, an event."""
    os.mkdir(season)
    log = "date,athlete,session,kind,minutes,rpe\n"
    for n in range(-random.randint(40, 70), 1):
        for who in PEOPLE:
            if random.random() < .7 or n == 0:
                log += (f"{day(n)},{who},Run,conditioning,"
                        f"{random.randint(3, 18) * 5},{random.randint(2, 9)}\n")
    write(season, "sessions.csv", log)
    week = "weekday,session,athlete,kind,minutes,rpe,keep\n"
    for i in random.sample(range(7), random.randint(3, 6)):
        kind = random.choice(("gym", "skill", "conditioning", "match"))
        week += (f"{DAYS[i]},S{i},{random.choice(('', 'ada'))},{kind},"
                 f"{random.randint(4, 18) * 5},{random.randint(2, 9)},"
                 f"{random.choice(('', 'yes'))}\n")
    week += "mon,Always,,skill,45,5,\n"
    write(season, "week.csv", week)
    event = random.randint(22, 34)
    write(season, "events.csv", f"event,start,days,load_per_day\nCup,"
          f"{day(event)},{random.randint(1, 3)},{random.randint(2, 9) * 100}\n")
    return week, event


def say(season, *more):
    words = (("simulate", "--event", "Cup"), ("load", "--ahead"))
    return [subprocess.run([program, w[0], season, *w[1:], *more, "--csv",
                            "--quiet"], check=True, capture_output=True).stdout
            for w in words]


def hand_out(season, *more):
    subprocess.run([program, "plan", season, "--hand-out", "--replace",
                    "--quiet", *more], check=True, stdout=subprocess.DEVNULL)


def reordered(season):
    """As a spreadsheet may leave it: rows and columns elsewhere."""
    with open(f"{season}/plan.csv", encoding="utf8") as file:
        rows = list(csv.DictReader(file))
    sessions = [i for i, r in enumerate(rows) if not r["exercise"]]
    assert len(sessions) == len(rows)
    random.shuffle(rows)
    columns = random.sample(list(rows[0]), len(rows[0]))
    with open(f"{season}/plan.csv", "w", encoding="utf8") as file:
        out = csv.DictWriter(file, columns, lineterminator="\r\n",
                             delimiter=random.choice(",\t"))
        out.writeheader()
        out.writerows(rows)


def try_season(season):
    week, event = draw(season)
    plain = say(season)
    # A block of the whole usual week is none.
    write(season, "blocks.csv", "start,weeks,block,volume\n"
          f"{day(1)},{random.randint(1, (event - 1) // 7)},as usual,100\n")
    block = say(season)
    names = block[1].replace(b"as usual", b"") == plain[1]
    os.remove(f"{season}/blocks.csv")
    # An absence is what days off are.
    first = random.randint(1, event - 8)  # a week at least: a Monday in it
    last = random.randint(first + 6, event - 1)
    write(season, "absences.csv",
          f"athlete,from,to,reason\nada,{day(first)},{day(last)},travel\n")
    absent = say(season)[0]
    os.remove(f"{season}/absences.csv")
    write(season, "week.csv", week + "".join(
        f"{day(n)},off,ada,,,,\n" for n in range(first, last + 1)))
    off = say(season)[0]
    write(season, "week.csv", week)
    # The usual week handed out is the usual week.
    hand_out(season, "--option", "none")
    usual = say(season)
    # What was handed out is read as it was, wherever its rows stand.
    hand_out(season, "--option", "7d-50")
    handed = say(season)
    reordered(season)
    again = say(season)
    return {"block": block[0] == plain[0] and names,
            "absence": absent == off and absent != plain[0],
            "usual handed out": usual == plain, "read again": again == handed,
            "handed out": handed[0] != plain[0],
            "ignored": say(season, "--ignore-plan") == plain}


for k in range(seasons):
    random.seed(20260308 + k)
    for name, good in try_season(f"{folder}/{k}").items():
        if not good:
            print("season", k, name)
print("done")
