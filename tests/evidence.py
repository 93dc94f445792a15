#!/usr/bin/python3
"""The table of outside checks in DEVELOPERS.md, made from what tests reached.

evidence.py FILE PAGE [--write]: FILE has a row a check (source, what, tolerance,
reached, by tabs), as the tests append it with PEAKWARD_EVIDENCE=FILE. Without
--write it fails unless PAGE holds the same rows. What was reached is told by the
power of ten above it (or the tolerance, if that is less); machines may differ by
one.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import math
import re
import sys
from pathlib import Path

BEGIN, END = "<!-- evidence: make evidence -->", "<!-- end of evidence -->"
SMALLEST = -15  # below that a distance is rounding


def bound(reached, tolerance):
    power = math.ceil(math.log10(reached)) if reached else SMALLEST
    return f"{min(10.0 ** max(SMALLEST, power), tolerance):.0e}"


def apart(one, other):
    """[powers of ten] between two bounds."""
    return abs(math.log10(float(one) / float(other)))


def rows_of(file):
    rows = []
    for line in Path(file).read_text().splitlines():
        source, what, tolerance, reached = line.split("\t")
        rows.append((source, what, f"{float(tolerance):.1g}",
                     bound(float(reached), float(tolerance))))
    return sorted(set(rows))


def table(rows):
    lines = ["| source | what is compared | tolerance | reached |",
             "|---|---|---|---|"]
    lines += [f"| {source} | {what} | {tolerance} | under {reached} |"
              for source, what, tolerance, reached in rows]
    return "\n".join(lines)


def rows_on(page):
    return re.findall(
        r"^\| (.+?) \| (.+?) \| (\S+) \| under (\S+) \|$", page, re.M)


def main():
    file, path = sys.argv[1], Path(sys.argv[2])
    page = path.read_text()
    start, stop = page.index(BEGIN) + len(BEGIN), page.index(END)
    rows = rows_of(file)
    if "--write" in sys.argv:
        path.write_text(f"{page[:start]}\n{table(rows)}\n{page[stop:]}")
        return
    there = {row[:3]: row[3] for row in rows_on(page[start:stop])}
    here = {row[:3]: row[3] for row in rows}
    wrong = [f"not in {path}: {key}" for key in here if key not in there]
    wrong += [f"not reached by any test: {key}" for key in there
              if key not in here]
    wrong += [f"{key}: {here[key]}, the page says {there[key]}"
              for key in here
              if key in there and apart(here[key], there[key]) > 1.01]
    if wrong:
        sys.exit("evidence: " + "\nevidence: ".join(wrong) +
                 "\n`make evidence` writes the table anew")
    print(f"evidence: {len(rows)} outside checks, as {path} says")


if __name__ == "__main__":
    main()
