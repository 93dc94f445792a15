#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes the demo season in data/demo: 26 weeks of an invented handball squad.

    python3 data/make_demo.py [--seed N] [--out DIR] [--truth]

Everything here is invented: the club, the eight players (code names only), the
loads, the tests and the events. No row comes from a real person. The same seed
gives the same bytes. Each player draws from generators of her own, named after
her and the purpose, so adding a player to SQUAD changes nobody else's rows.

The scenario
------------
A women's club squad is logged from Monday 2025-09-29 to Sunday 2026-03-29. The
league ends that day. Ahead lie a one-day regional cup (Saturday 2026-04-25) and
a three-day selection weekend (from Friday 2026-05-08), 13 days later, which
counts double. The coach asks how to taper for both.

- back-09 is ill from 2026-02-03 to 2026-02-11: nine days without a row, which
  `peakward check` should report as a gap. She returns for four easy days.
- centre-10 sprains an ankle in the match of 2025-11-15: a week of mobility
  only, then an easy week without conditioning, match or tests.
- wing-07 is 17 years old, the one minor, and trains lightest of the field.
- Christmas, 2025-12-24 to 28: five light days. No training on 12-31 and 01-01.

The assumptions
---------------
Load is session-RPE, minutes x rating (Foster et al. 2001, J Strength Cond Res
15:109-115). Everything else about the training:

- two gym days, two full court days and a short one, one conditioning session
  and a weekend match make the week ........... common practice, no source
- three loading weeks, then one at about 60 % of the volume with the match kept
  and the conditioning left out .............. common practice, no source
- a start without conditioning (two weeks), without a match (one week), and a
  first league match in week 3 ............... common practice, no source
- ratings: gym 5-7, court 4-6, conditioning 7-8, match 7-9 (goalkeeper 5-6.5),
  mobility 2; minutes in steps of 5 .......... common practice, no source
- warm-up is part of the court and match minutes .................. invented
- players differ by gym minutes, playing time and how hard they rate . invented
- 3 % of sessions are missed, 1.5 % become an easy ride instead .... invented
- nobody misses a session in light weeks, in weeks without a league match or
  on the last day ................................................. invented
- the usual week to come is one for everyone, near the squad's mean, with a
  friendly in place of the league match ........................... invented
- the body masses, the league calendar, both events and their loads  invented
- the exercises and their kilograms, one figure for everyone ....... invented

Tests are simulated, with the two-component response read before the day's
sessions (sum to n-1: Busso, Candau, Lacour 1994, Eur J Appl Physiol 69:50-54):

    p(t) = p0 + k1 sum w e^(-(t-s)/tau1) - k2 sum w e^(-(t-s)/tau2),  s < t

and before the first day the mean of the first 28 days, for ever. So a fit can
be held against the truth (`--truth` prints it), which real data never allow.

- tau1 30-55 d, tau2 8-17 d, k2/k1 1.5-2.3, drawn evenly, and drawn again
  until t_n is 7-18 d and tau1 k1 >= 1.25 tau2 k2 ................. invented
- training moves the jump by 1.5-2.5 cm between a player's best and worst test
  day, before noise ............................................... invented
- countermovement jump 28-38 cm, 30 m sprint 4.4-5.0 s ............ invented
- noise SD .8 cm and .04 s; the typical errors written down, 1.0 cm and .05 s,
  are what a careful coach would enter ............................ invented
- the sprint follows the jump's own curve, .04 s faster per cm ..... invented
- squad tests every 2-3 weeks on a Monday or Thursday, away from the day after
  a match; 5 % are missed .................... common practice, no source

Seed 3 is the default because it was looked for: of the first eight it is the
only one with which no player's true gain for the cup (the usual week cut by
75 % over the last whole t_n days) passes the 6 % of published experience; with
others single players reach 10 %.
"""

import argparse
import csv
import datetime
import math
import os
import random
import sys
from typing import NamedTuple

FIRST_DAY = datetime.date(2025, 9, 29)          # a Monday
WEEKS = 26
DAYS = 7 * WEEKS
STEADY_DAYS = 28                                # prehistory: mean of these


class Player(NamedTuple):
    name: str
    mass_kg: float
    minor: str
    gym_minutes: int                            # of a full gym session
    match_minutes: int                          # warm-up and playing time
    match_rpe: float
    harder: float                               # added to each rating
    jump_cm: float                              # season's mean
    sprint_s: float                             # season's mean


SQUAD = [
    Player("back-03", 71.5, "no", 70, 75, 8.0, 0.2, 33.5, 4.68),
    Player("back-09", 69.0, "no", 65, 70, 8.0, 0.0, 34.0, 4.62),
    Player("back-14", 74.0, "no", 70, 65, 7.5, -0.3, 32.0, 4.74),
    Player("centre-10", 65.5, "no", 65, 80, 8.5, 0.4, 33.0, 4.64),
    Player("keeper-01", 73.5, "no", 65, 65, 5.5, -0.4, 31.0, 4.86),
    Player("pivot-05", 78.0, "no", 75, 70, 8.5, 0.3, 30.5, 4.82),
    Player("wing-07", 59.5, "yes", 60, 60, 7.5, -0.5, 35.0, 4.55),
    Player("wing-11", 62.0, "no", 65, 75, 8.0, 0.0, 34.5, 4.50),
]

# Weeks are counted from 1.
LIGHT_WEEKS = {5, 9, 13, 17, 21, 25}
LIGHT_VOLUME = 0.60
VOLUME = {1: 0.90, 2: 0.95, 3: 1.00, 4: 1.05}   # else by place in the block
BLOCK_VOLUME = {1: 0.95, 2: 1.00, 3: 1.05}      # weeks since the light week
NO_CONDITIONING = {1, 2, 14} | LIGHT_WEEKS
NO_MATCH = {1, 6, 13, 19, 23}
FRIENDLY = {2, 14}
CHRISTMAS_WEEK = 13                             # 2025-12-22 to 28
FULL_TURNOUT = NO_MATCH | FRIENDLY | LIGHT_WEEKS     # nobody misses more
SUNDAY_MATCH = {4, 10, 16, 22, 26}

HOLIDAYS = {datetime.date(2025, 12, 31), datetime.date(2026, 1, 1)}

# Two days of light training, then a run and mobility at home.
CHRISTMAS_PLAN = [
    (0, "Gym A", "gym", 65, 6), (0, "Mobility", "mobility", 20, 2),
    (1, "Court", "skill", 90, 5), (4, "Easy run", "other", 30, 3.5),
    (6, "Mobility", "mobility", 20, 2),
]

# (player, first day, last day, what is left of the training)
ABSENCES = [
    ("back-09", datetime.date(2026, 2, 3), datetime.date(2026, 2, 11), "none"),
    ("back-09", datetime.date(2026, 2, 12), datetime.date(2026, 2, 15),
     "easy"),
    ("centre-10", datetime.date(2025, 11, 16), datetime.date(2025, 11, 23),
     "mobility"),
    ("centre-10", datetime.date(2025, 11, 24), datetime.date(2025, 11, 30),
     "easy"),
]

RPE_RANGE = {"gym": (5, 7), "skill": (4, 6), "conditioning": (7, 8),
             "match": (5, 9), "mobility": (2, 2), "other": (3, 4)}
MINUTES_RANGE = {"gym": (60, 75), "skill": (45, 95), "conditioning": (30, 45)}
MATCH_MINUTES = (60, 80)
MISSED = 0.03
SWAPPED = 0.015

# Days of the squad's tests; on those in SPRINT_DAYS the sprint is run as well.
JUMP_DAYS = ["2025-10-06", "2025-10-23", "2025-11-10", "2025-11-27",
             "2025-12-15", "2025-12-29", "2026-01-15", "2026-02-02",
             "2026-02-19", "2026-03-09", "2026-03-26"]
SPRINT_DAYS = {"2025-10-06", "2025-11-10", "2025-12-15", "2026-01-15",
               "2026-02-19", "2026-03-26"}
TEST_MISSED = 0.05
JUMP_ERROR, JUMP_NOISE = "1.0", 0.8             # [cm]
SPRINT_ERROR, SPRINT_NOISE = "0.05", 0.04       # [s]
SPRINT_PER_CM = 0.04                            # [s/cm]

EVENTS = [
    ["Regional cup", "2026-04-25", 1, 1, 2, 700, "14:00", 60],
    ["Selection weekend", "2026-05-08", 3, 2, 2, 800, "09:30", 60],
]

USUAL_WEEK = [
    ["mon", "Gym A", "gym", 60, 6, ""],
    ["mon", "Mobility", "mobility", 20, 2, "yes"],
    ["tue", "Court", "skill", 90, 5, ""],
    ["wed", "Gym B", "gym", 60, 6, ""],
    ["thu", "Court", "skill", 90, 5, ""],
    ["thu", "Intervals", "conditioning", 35, 7.5, ""],
    ["fri", "Court", "skill", 50, 4, ""],
    ["sat", "Friendly", "match", 60, 7.5, "yes"],
]

# Kilograms or a share of the 1RM, or neither: body mass only.
EXERCISES = [
    ["Gym A", "Back squat", 5, 5, "", 80, ""],
    ["Gym A", "Bench press", 4, 6, "", 75, ""],
    ["Gym A", "Dumbbell row", 3, 10, 22.5, "", ""],
    ["Gym A", "Nordic curl", 3, 5, "", "", ""],
    ["Gym A", "Dead bug", 3, 10, "", "", ""],
    ["Gym A", "Copenhagen adduction", 2, 8, "", "", "yes"],
    ["Gym B", "Power clean", 5, 3, "", 75, ""],
    ["Gym B", "Romanian deadlift", 4, 6, 60, "", ""],
    ["Gym B", "Pull-up", 4, 6, "", "", ""],
    ["Gym B", "Split squat", 3, 8, 30, "", ""],
    ["Gym B", "Pallof press", 3, 10, 12.5, "", ""],
    ["Gym B", "Shoulder external rotation", 2, 15, 4, "", "yes"],
]


def generator(seed, who, purpose):
    """A generator of its own for each player and purpose."""
    return random.Random(f"{seed}/{who}/{purpose}")


def clamp(value, bounds):
    return min(max(value, bounds[0]), bounds[1])


def to_step(value, step):
    return step * math.floor(value / step + 0.5)


# --- Training ------------------------------------------------------------

def week_volume(week):
    """Share of the usual minutes in a week."""
    if week in LIGHT_WEEKS:
        return LIGHT_VOLUME
    if week in VOLUME:
        return VOLUME[week]
    return BLOCK_VOLUME[(week - min(LIGHT_WEEKS)) % 4]


def weekend(week):
    """Friday to Sunday: [(weekday, session, kind, minutes, rpe)]."""
    if week in NO_MATCH:
        return [(4, "Court", "skill", 50, 4.5), (5, "Pool", "other", 40, 3.5),
                (6, "Mobility", "mobility", 20, 2)]
    name = "Friendly" if week in FRIENDLY else "Match"
    late = 1 if week in SUNDAY_MATCH else 0
    return [(4 + late, "Court", "skill", 50, 4.5),
            (5 + late, name, "match", 70, 8)]


def squad_week(week):
    """The coach's week for everyone: [(weekday, session, kind, min, rpe)]."""
    if week == CHRISTMAS_WEEK:
        return CHRISTMAS_PLAN
    gym_b_day = 4 if week == 14 else 2          # after the new year
    plan = [(0, "Gym A", "gym", 65, 6), (0, "Mobility", "mobility", 20, 2),
            (1, "Court", "skill", 90, 5), (gym_b_day, "Gym B", "gym", 65, 6),
            (3, "Court", "skill", 90, 5)]
    if week not in NO_CONDITIONING:
        name = "Intervals" if week % 2 else "Small-sided"
        plan.append((3, name, "conditioning", 35, 7.5))
    return sorted(plan + weekend(week), key=lambda row: row[0])


def absence(name, day):
    """What an absence leaves of that day: none, mobility, easy, or ''."""
    for who, first, last, what in ABSENCES:
        if who == name and first <= day <= last:
            return what
    return ""


def minutes_of(player, week, row, easy, rng):
    """Minutes of one session as she did it, in steps of five."""
    _, session, kind, minutes, _ = row
    if kind == "match":
        varied = player.match_minutes + rng.choice((-5, 0, 0, 5))
        return clamp(varied, MATCH_MINUTES)
    if kind in ("mobility", "other"):
        return minutes
    base = player.gym_minutes if kind == "gym" else minutes
    share = week_volume(week) * (0.6 if easy else 1)
    wanted = to_step(base * share + rng.gauss(0, 2), 5)
    if share < 0.85:
        return max(wanted, 25)
    return clamp(wanted, MINUTES_RANGE[kind])


def rating_of(player, row, easy, hard_match, rng):
    """Her rating of one session, in steps of a half."""
    kind, rpe = row[2], row[4]
    bounds = RPE_RANGE[kind]
    if kind == "match":
        rpe = player.match_rpe + hard_match
        bounds = (5, 6.5) if player.match_rpe < 7 else (7, 9)
    elif kind != "mobility":
        rpe += player.harder - (0.5 if easy else 0)
    return clamp(to_step(rpe + rng.gauss(0, 0.4), 0.5), bounds)


def left_of(row, what):
    """The session that an absence leaves in place of a planned one, or None."""
    if not row or what == "none":
        return None
    if what and row[2] in ("conditioning", "match", "other"):
        return None
    if what == "mobility":
        return (row[0], "Mobility", "mobility", 20, 2)
    return row


def chance(day, week, row, rng):
    """Now and then a session is missed, or becomes an easy ride."""
    drawn = rng.random()
    last_day = (day - FIRST_DAY).days == DAYS - 1
    if (last_day or week in FULL_TURNOUT
            or row[2] in ("mobility", "other")):
        return row
    if drawn < MISSED:
        return None
    if drawn < MISSED + SWAPPED and row[2] != "match":
        return (row[0], "Easy ride", "other", 40, 3.5)
    return row


def sessions_of(player, seed):
    """All her rows: [(day, session, kind, minutes, rpe)]."""
    rng = generator(seed, player.name, "sessions")
    squad = generator(seed, "squad", "matches")
    rows, seen = [], set()
    for week in range(1, WEEKS + 1):
        hard_match = squad.choice((-0.5, 0, 0, 0.5))
        for row in squad_week(week):
            day = FIRST_DAY + datetime.timedelta(7 * (week - 1) + row[0])
            what = absence(player.name, day)
            row = left_of(chance(day, week, row, rng), what)
            if not row or day in HOLIDAYS or (day, row[1]) in seen:
                continue
            seen.add((day, row[1]))
            easy = what == "easy"
            rows.append((day, row[1], row[2],
                         minutes_of(player, week, row, easy, rng),
                         rating_of(player, row, easy, hard_match, rng)))
    return rows


# --- Tests ---------------------------------------------------------------

class Truth(NamedTuple):
    p0: float                                   # [cm]
    k1: float                                   # [cm per unit of load]
    k2: float
    tau1: float                                 # [d]
    tau2: float

    def t_n(self):
        return crossing(self.tau1, self.tau2, self.k2 / self.k1)


def crossing(tau1, tau2, ratio):
    """Days before an event at which a load neither helps nor harms."""
    return tau1 * tau2 / (tau1 - tau2) * math.log(ratio)


def daily_loads(rows):
    loads = [0.0] * DAYS
    for day, _, _, minutes, rpe in rows:
        loads[(day - FIRST_DAY).days] += minutes * rpe
    return loads


def component(loads, tau):
    """Sum of w e^(-(t-s)/tau) over s < t, steady before the first day."""
    decay = math.exp(-1 / tau)
    state = sum(loads[:STEADY_DAYS]) / STEADY_DAYS * decay / (1 - decay)
    states = []
    for load in loads:
        states.append(state)
        state = (state + load) * decay
    return states


def draw_shape(rng):
    """tau1, tau2, k2/k1 with a plausible t_n and a use for training."""
    while True:
        tau1, tau2 = rng.uniform(30, 55), rng.uniform(8, 17)
        ratio = rng.uniform(1.5, 2.3)
        if (7 <= crossing(tau1, tau2, ratio) <= 18
                and tau1 >= 1.25 * ratio * tau2):
            return tau1, tau2, ratio


def response_of(player, loads, seed):
    """Her true parameters and her noiseless jump on each day, in cm."""
    rng = generator(seed, player.name, "response")
    tau1, tau2, ratio = draw_shape(rng)
    moved = rng.uniform(1.5, 2.5)
    unit = [a - ratio * b for a, b in
            zip(component(loads, tau1), component(loads, tau2))]
    tested = [unit[day_index(day)] for day in JUMP_DAYS]
    k1 = moved / (max(tested) - min(tested))
    p0 = player.jump_cm - k1 * sum(tested) / len(tested)
    return Truth(p0, k1, ratio * k1, tau1, tau2), [p0 + k1 * u for u in unit]


def day_index(iso):
    return (datetime.date.fromisoformat(iso) - FIRST_DAY).days


def tests_of(player, jump, seed):
    """Her tests: [(date, test, value, error, better)]."""
    rng = generator(seed, player.name, "tests")
    rows = []
    for date in JUMP_DAYS:
        missed = rng.random() < TEST_MISSED
        noise, sprint_noise = rng.gauss(0, 1), rng.gauss(0, 1)
        if missed or absence(player.name, datetime.date.fromisoformat(date)):
            continue
        form = jump[day_index(date)]
        rows.append((date, "Jump height (cm)", f"{form + JUMP_NOISE * noise:.1f}",
                     JUMP_ERROR, "higher"))
        if date in SPRINT_DAYS:
            time = (player.sprint_s - SPRINT_PER_CM * (form - player.jump_cm)
                    + SPRINT_NOISE * sprint_noise)
            rows.append((date, "Sprint 30 m (s)", f"{time:.2f}", SPRINT_ERROR,
                         "lower"))
    return rows


# --- Files ---------------------------------------------------------------

def write_table(folder, name, header, rows):
    """Written under a temporary name first: a file is whole or not there."""
    path = os.path.join(folder, name)
    with open(path + ".tmp", "w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split(","))
        out.writerows(rows)
    os.replace(path + ".tmp", path)


def make_season(seed):
    """Session rows, test rows and the truth of each player."""
    sessions, tests, truths = [], [], []
    for player in sorted(SQUAD):
        rows = sessions_of(player, seed)
        truth, jump = response_of(player, daily_loads(rows), seed)
        truths.append((player.name, truth))
        sessions += [[day.isoformat(), player.name, session, kind, minutes,
                      f"{rpe:g}"] for day, session, kind, minutes, rpe in rows]
        tests += [[date, player.name, test, value, error, better, "before"]
                  for date, test, value, error, better
                  in tests_of(player, jump, seed)]
    by_day = (lambda row: (row[0], row[1]))     # stable: keeps a day's order
    return sorted(sessions, key=by_day), sorted(tests, key=by_day), truths


def write_season(folder, sessions, tests):
    os.makedirs(folder, exist_ok=True)
    write_table(folder, "sessions.csv",
                "date,athlete,session,kind,minutes,rpe", sessions)
    write_table(folder, "tests.csv",
                "date,athlete,test,value,error,better,when", tests)
    write_table(folder, "athletes.csv", "athlete,mass_kg,sex,minor",
                [[p.name, p.mass_kg, "f", p.minor] for p in sorted(SQUAD)])
    write_table(folder, "events.csv", "event,start,days,weight,"
                "sessions_per_day,load_per_day,start_time,session_minutes",
                EVENTS)
    write_table(folder, "week.csv",
                "weekday,session,kind,minutes,rpe,keep", USUAL_WEEK)
    write_table(folder, "exercises.csv",
                "session,exercise,sets,reps,kg,percent_1rm,keep", EXERCISES)


def print_truth(truths):
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["athlete", "p0", "k1", "k2", "tau1", "tau2", "t_n"])
    for name, truth in truths:
        out.writerow([name] + [f"{x:.9g}" for x in (*truth, truth.t_n())])


def main():
    here = os.path.dirname(os.path.abspath(__file__))
    parser = argparse.ArgumentParser(
        description="Makes the invented demo season.")
    parser.add_argument("--seed", type=int, default=3,
                        help="3 unless given")
    parser.add_argument("--out", default=os.path.join(here, "demo"),
                        metavar="DIR", help="folder to write (data/demo)")
    parser.add_argument("--truth", action="store_true",
                        help="also print the parameters behind the tests")
    options = parser.parse_args()
    sessions, tests, truths = make_season(options.seed)
    write_season(options.out, sessions, tests)
    if options.truth:
        print_truth(truths)


if __name__ == "__main__":
    main()
