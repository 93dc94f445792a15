#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes data/lessons/five-tests: 16 weeks and five tests of an invented athlete.

    python3 data/make_lessons.py [--seed N] [--out DIR] [--truth]

Everything is invented. The week (two gym days, two skill days, conditioning, a
match), three harder weeks and a light one, and ratings are common practice, no
source. Tests are the two-component response read before the day's sessions (sum
to n-1: Busso, Candau, Lacour 1994, Eur J Appl Physiol 69:50-54), steady
training at the mean of the first 28 days before the log, plus noise of the
typical error, rounded to 0.1 cm.
"""
import argparse
import datetime
import math
import os
import random

FIRST = datetime.date(2026, 1, 5)
DAYS = 112
TEST_DAYS = [24, 45, 66, 87, 108]
ERROR = 0.4  # cm
TRUTH = {"tau1": 42, "tau2": 12, "k2/k1": 1.9}
RANGE = 3.0  # cm between the best and the worst day of the log, before noise
LEVEL = 36  # cm, mean of the log
WEEK = [("Gym A", "gym", 60, 6), ("Court", "skill", 75, 5), None,
        ("Gym B", "gym", 60, 6), ("Intervals", "conditioning", 40, 8),
        ("Match", "match", 70, 8), None]


def sessions(rng):
    rows = []
    for day in range(DAYS):
        planned = WEEK[day % 7]
        if planned is None or rng.random() < 0.04:
            continue
        name, kind, minutes, rating = planned
        week = day // 7
        share = 0.5 if week % 4 == 3 else 0.85 + 0.15 * (week % 4)
        minutes = max(15, 5 * round(minutes * share * rng.uniform(0.85, 1.15) / 5))
        rating = min(10, max(1, rating + rng.choice([-1, 0, 0, 1])))
        rows.append((day, name, kind, minutes, rating))
    return rows


def shape(load, ratio):
    """Fitness less ratio times fatigue for k1 = 1 at each day, before its load."""
    before = sum(load[:28]) / 28
    out = []
    states = [before * math.exp(-1 / t) / (1 - math.exp(-1 / t))
              for t in (TRUTH["tau1"], TRUTH["tau2"])]
    for day in range(DAYS):
        out.append(states[0] - ratio * states[1])
        for i, tau in enumerate((TRUTH["tau1"], TRUTH["tau2"])):
            states[i] = (states[i] + load[day]) * math.exp(-1 / tau)
    return out


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seed", type=int, default=5)
    parser.add_argument("--out", default=os.path.join(
        os.path.dirname(os.path.abspath(__file__)), "lessons", "five-tests"))
    parser.add_argument("--truth", action="store_true")
    options = parser.parse_args()
    rng = random.Random(options.seed)
    rows = sessions(rng)
    load = [0.0] * DAYS
    for day, _, _, minutes, rating in rows:
        load[day] += minutes * rating
    z = shape(load, TRUTH["k2/k1"])
    k1 = RANGE / (max(z) - min(z))
    p0 = LEVEL - k1 * sum(z) / DAYS
    os.makedirs(options.out, exist_ok=True)
    with open(os.path.join(options.out, "sessions.csv"), "w", newline="") as f:
        f.write("date,athlete,session,kind,minutes,rpe\n")
        for day, name, kind, minutes, rating in rows:
            f.write(f"{FIRST + datetime.timedelta(day)},class-01,{name},{kind},"
                    f"{minutes},{rating}\n")
    with open(os.path.join(options.out, "tests.csv"), "w", newline="") as f:
        f.write("date,athlete,test,value,error\n")
        for day in TEST_DAYS:
            value = p0 + k1 * z[day] + rng.gauss(0, ERROR)
            f.write(f"{FIRST + datetime.timedelta(day)},class-01,jump [cm],"
                    f"{value:.1f},{ERROR}\n")
    if options.truth:
        print(TRUTH, f"p0 {p0:.3f} k1 {k1:.6f} k2 {TRUTH['k2/k1'] * k1:.6f}")


if __name__ == "__main__":
    main()
