#!/usr/bin/python3
"""Compares weeks of a file with the season's own, and does the same with two
seasons and simulate: readiness and load must be alike.

    blocks_compared.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import math
import shutil
import subprocess
import sys
from pathlib import Path

program, folder = sys.argv[1:3]
BLOCKS = ("start,weeks,block,volume,rise\n2026-03-30,2,build,110,5\n"
          "2026-04-13,1,overload,130,0\n")


def table(*words):
    done = subprocess.run([program, *words, "--csv", "--quiet"], check=True,
                          capture_output=True, text=True)
    return list(csv.DictReader(io.StringIO(done.stdout)))


def at_event(season):
    rows = table("simulate", season, "--option", "14d-50")
    ready, load = {}, {}
    for r in rows:
        if r["date"] == "2026-04-25":
            ready[r["athlete"]] = float(r["readiness"])
        elif r["phase"] == "planned" and r["date"] < "2026-04-25":
            load[r["athlete"]] = load.get(r["athlete"], 0) + float(r["load"])
    return ready, load


for name in ("own", "other"):
    shutil.copytree("data/demo", f"{folder}/{name}")
for path in ("more.csv", "other/blocks.csv"):
    with open(f"{folder}/{path}", "w", encoding="utf8") as file:
        file.write(BLOCKS)
said = table("compare", f"{folder}/own", "--blocks", f"{folder}/more.csv",
             "--option", "14d-50")
want = {"own weeks": at_event(f"{folder}/own"),
        "more.csv": at_event(f"{folder}/other")}
good = [math.isclose(float(r[key]), want[r["option"]][i][r["athlete"]],
                     rel_tol=1e-9)
        for r in said for i, key in enumerate(("readiness", "load"))]
print(len(good), all(good))
# The table for people has the same, a row an athlete.
page = subprocess.run([program, "compare", f"{folder}/own", "--quiet", "--blocks",
                       f"{folder}/more.csv", "--option", "14d-50"], check=True,
                      capture_output=True, text=True).stdout
rows = [line.split()[:5] for line in page.splitlines()
        if line.split(" ")[0] in want["own weeks"][0]]
print([r[0] for r in rows] == sorted(want["own weeks"][0]),
      all(abs(float(r[1 + k + 2 * (1 - i)]) - want[key][i][r[0]]) < (.0051, .51)[i]
          for r in rows for k, key in enumerate(want) for i in (0, 1)))
# In how many of 100 models the file is ahead: of the squad and of each alone.
chance = {r["athlete"]: round(100 * float(r["beats_none"])) for r in said
          if r["beats_none"]}
alone = {name: subprocess.run(
    [program, "compare", f"{folder}/own", "--quiet", "--blocks",
     f"{folder}/more.csv", "--option", "14d-50", "--athlete", name], check=True,
    capture_output=True, text=True).stdout for name in chance}
print(f"ahead in {min(chance.values())} to {max(chance.values())} of 100"
      in " ".join(page.split()),
      sum(f"ahead in {chance[name]} of 100" in " ".join(one.split())
          for name, one in alone.items()))
# Of two athletes one may be ahead and one behind: that is not the same.
gain = {r["athlete"]: float(r["gain"]) for r in said if r["option"] == "more.csv"}
pair = {min(gain, key=gain.get), max(gain, key=gain.get)}
shutil.copytree(f"{folder}/own", f"{folder}/pair")
for file in Path(f"{folder}/pair").glob("*.csv"):
    lines = file.read_text(encoding="utf8").splitlines(keepends=True)
    file.write_text("".join(line for line in lines if pair & set(line.split(","))
                            or not set(gain) & set(line.split(","))),
                    encoding="utf8")
page = subprocess.run([program, "compare", f"{folder}/pair", "--quiet", "--blocks",
                       f"{folder}/more.csv", "--option", "14d-50"], check=True,
                      capture_output=True, text=True).stdout
print(min(gain.values()) < 0 < max(gain.values()), "brings more at the event than "
      "the season's own weeks for 1 of 2" in " ".join(page.split()))
# A block of the usual week is none.
with open(f"{folder}/more.csv", "w", encoding="utf8") as file:
    file.write("start,weeks,block,volume\n2026-03-30,3,usual,100\n")
same = table("compare", f"{folder}/own", "--blocks", f"{folder}/more.csv")
print(all(float(r["gain"]) == 0 for r in same))
