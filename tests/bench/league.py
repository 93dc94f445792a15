"""A season folder of a whole league, seeded: invented athletes, two years each.

    league.py FOLDER [ATHLETES] [--days DAYS] [--tests TESTS] [--by-date]
              [--events EVENTS]

sessions.csv is sorted by athlete, or by date with --by-date: the same rows.
Events follow each other by two weeks. Each athlete is made from their own number alone, so that a league of 100 is the
beginning of one of 1,000. Jump tests follow a two-component model about the
literature's centre with noise of an SD of a centimetre.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import argparse
import datetime
import math
import os
import random

SEED = 20261
LAST = datetime.date(2026, 3, 29)
EVENT = LAST + datetime.timedelta(days=27)
WEEK = [("Gym A", "gym", 60, 6), ("Court", "skill", 90, 5),
        ("Gym B", "gym", 60, 6), ("Intervals", "conditioning", 35, 7.5),
        ("Court", "skill", 50, 4), ("Match", "match", 60, 7.5), None]


def sessions_of(draw, days):
    """One row for each day trained, and the load of each day."""
    rows, loads = [], []
    for day in range(days):
        usual = WEEK[day % 7]
        loads.append(0)
        if usual is None or draw.random() < .08:
            continue
        name, kind, minutes, rating = usual
        hard = 1 if day // 28 % 2 else .7
        minutes = 5 * max(2, round(hard * minutes * draw.uniform(.8, 1.2) / 5))
        rating = min(10, max(1, round(2 * (rating + draw.gauss(0, .8))) / 2))
        rows.append((day, f"{name},{kind},{minutes},{rating:g}"))
        loads[-1] = minutes * rating
    return rows, loads


def tests_of(draw, loads, count):
    """Jumps in centimetres, moved by training by an SD of two."""
    tau1 = 42 * math.exp(draw.gauss(0, .3))
    tau2 = min(13 * math.exp(draw.gauss(0, .4)), tau1 / 1.4)
    ratio, fitness, fatigue, course = 1.9 * math.exp(draw.gauss(0, .3)), 0, 0, []
    for load in loads:
        course.append(fitness - ratio * fatigue)
        fitness = (fitness + load) * math.exp(-1 / tau1)
        fatigue = (fatigue + load) * math.exp(-1 / tau2)
    late = course[len(course) // 4:]
    mean = sum(late) / len(late)
    spread = math.sqrt(sum((c - mean)**2 for c in late) / len(late)) or 1
    level, rows = draw.gauss(33, 3), []
    for i in range(count):
        day = int((i + draw.uniform(.3, .7)) * len(loads) / count)
        jump = level + 2 * (course[day] - mean) / spread + draw.gauss(0, 1)
        rows.append((day, f"Jump (cm),{jump:.1f},1"))
    return rows


def write(path, head, rows):
    with open(path, "w", encoding="ascii", newline="") as out:
        out.write(head + "\n")
        out.writelines(rows)


def main():
    asked = argparse.ArgumentParser()
    asked.add_argument("folder")
    asked.add_argument("athletes", type=int, nargs="?", default=1000)
    asked.add_argument("--days", type=int, default=730)
    asked.add_argument("--tests", type=int, default=16)
    asked.add_argument("--events", type=int, default=1)
    asked.add_argument("--by-date", action="store_true")
    asked = asked.parse_args()
    dates = [(LAST - datetime.timedelta(days=asked.days - 1 - i)).isoformat()
             for i in range(asked.days)]
    os.makedirs(asked.folder, exist_ok=True)

    def both():
        for i in range(asked.athletes):
            draw = random.Random(SEED * 100003 + i)
            sessions, loads = sessions_of(draw, asked.days)
            tests = tests_of(draw, loads, asked.tests)
            name = f"player-{i + 1:05}"
            yield ([(d, f"{dates[d]},{name},{r}\n") for d, r in sessions],
                   [(d, f"{dates[d]},{name},{r}\n") for d, r in tests])

    tests, mixed = [], []
    with open(os.path.join(asked.folder, "sessions.csv"), "w",
              encoding="ascii", newline="") as out:
        out.write("date,athlete,session,kind,minutes,rpe\n")
        for own, own_tests in both():
            tests += [row for _, row in own_tests]
            if asked.by_date:
                mixed += own
            else:
                out.writelines(row for _, row in own)
        mixed.sort(key=lambda row: row[0])
        out.writelines(row for _, row in mixed)
    write(os.path.join(asked.folder, "tests.csv"),
          "date,athlete,test,value,error", tests)
    write(os.path.join(asked.folder, "events.csv"),
          "event,start,days,load_per_day",
          [f"League cup {i + 1},{EVENT + datetime.timedelta(days=14 * i)},1,700\n"
           for i in range(asked.events)])


main()
