#!/usr/bin/python3
"""Does an answer hang on the order in which athletes or their tests are written?

    order.py PROGRAM FOLDER

The demo season with the rows of athletes.csv, tests.csv and sessions.csv turned
round, then shuffled, by which athletes are numbered otherwise: pooled models,
recommended and common tapers must be the same for everybody, numbers to nine
digits. Prints what differs, and a line a command.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import math
import os
import random
import shutil
import subprocess
import sys

program, folder = sys.argv[1:3]
SEED = int(os.environ.get("PEAKWARD_SEED", 20260329))
ROUNDS = 1 if os.environ.get("PEAKWARD_QUICK") else 4
COMMANDS = ("fit", "compare --option recommended --option none",
            "taper --groups 2", "taper --groups 8")


def table(season, command):
    name, *words = command.split()
    done = subprocess.run([program, name, season, *words, "--csv", "--quiet"],
                          check=True, capture_output=True, text=True)
    head, *rows = csv.reader(io.StringIO(done.stdout))
    return head, sorted(rows, key=lambda row: row[:4])


def same(one, other):
    if one == other:
        return True
    try:
        return math.isclose(float(one), float(other), rel_tol=1e-9,
                            abs_tol=1e-9)
    except ValueError:
        return False


def compare(command, season, wanted):
    head, rows = table(season, command)
    if len(rows) != len(wanted):
        print(command, len(rows), "rows, expected", len(wanted))
    apart = 0
    for row, want in zip(rows, wanted):
        for column, one, other in zip(head, row, want):
            # common tapers are named as they come: see together()
            if not same(one, other) and column != "plan":
                apart += 1
                if apart < 4:
                    print(command, row[0], row[2], column, one, other)
    return apart + (together(head, rows) != together(head, wanted))


def together(head, rows):
    """Who shares a taper with whom, for each number of tapers."""
    if "plan" not in head:
        return None
    keys = head.index("plans"), head.index("plan")
    shared = {}
    for row in rows:
        shared.setdefault((row[keys[0]], row[keys[1]]), set()).add(row[0])
    return {(plans, *sorted(who)) for (plans, _), who in shared.items()}


dice = random.Random(SEED)
wanted = {command: table("data/demo", command)[1] for command in COMMANDS}
apart = dict.fromkeys(COMMANDS, 0)
for turn in range(ROUNDS):
    season = f"{folder}/{turn}"
    shutil.copytree("data/demo", season)
    for name in ("athletes", "tests", "sessions"):
        with open(f"{season}/{name}.csv", encoding="utf8") as file:
            head, *rows = file.readlines()
        if turn > 0:
            dice.shuffle(rows)
        else:  # so that others are first and last for sure
            rows.reverse()
        with open(f"{season}/{name}.csv", "w", encoding="utf8") as file:
            file.writelines([head, *rows])
    for command in COMMANDS:
        apart[command] += compare(command, season, wanted[command])
for command in COMMANDS:
    enough = "" if len(wanted[command]) >= 16 else " of few rows"
    print(f"{command}: {apart[command]} differ{enough}")
