"""The sentences of the sliders against the figures of `compare` and `taper`.

    page_sliders.py TOLD COMPARE_CSV TAPER_CSV

TOLD: hidden|first sentence|length and cut|sentence of 14 days at 50 %|
of a straight fall to 50 %|of an exponential one|

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import re
import sys

hidden, first, sliders, *said, _ = sys.argv[1].split("|")


def figures(row):
    level = abs(float(row["readiness"]) - float(row["gain"]))
    return ([100 * float(row[name]) / level
             for name in ("gain", "gain_low", "gain_high")]
            + [100 * float(row["beats_none"])])


def check(sentence, row):
    found = re.match(r"Expected gain (\S+) % of readiness without a taper "
                     r"\(90 % range (\S+) to (\S+) %\), helps in (\d+) of 100 "
                     r"likely models\. ", sentence)
    assert found, sentence
    told = [float(x.replace("\u2212", "-")) for x in found.groups()]
    for shown, wanted, step in zip(told, figures(row), (.1, .1, .1, 1)):
        assert abs(shown - wanted) <= .5001 * step, (sentence, row)


assert hidden == "false", hidden
assert sliders == "14 days50 %", sliders
rows = {row["option"]: row for row in csv.DictReader(open(sys.argv[2]))}
for sentence, option in zip(said, ("14d-50", "14d-0..50", "14d-0~50"),
                            strict=True):
    check(sentence, rows[option])
best = next(row for row in csv.DictReader(open(sys.argv[3]))
            if row["athlete"] == "back-03" and row["tag"] == "recommended")
check(first, best)
print("sliders: the figures of compare and taper,", best["option"])
