"""The letters inside the pictures of `report`'s page, or of the worksheets, as
they come out on paper and on a phone.

    lettering.py PAGE COUNT

At least 9.5 pt on a sheet of A4 (the page's own style says how wide a figure is
printed), and 11 px on a screen 360 px wide, where a figure has what the page's
and its own padding and border leave. COUNT pictures at least are looked at.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re
import sys

POINTS = {"mm": 72 / 25.4, "cm": 72 / 2.54}
PHONE = 360 - 2 * 16 - 2 * 8 - 2  # px: body 1rem, figure .5rem and 1 px

with open(sys.argv[1], encoding="utf8") as file:
    page = file.read()
screen, paper = page[:page.index("</style>")].split("@media print{", 1)


def printed(*selectors):
    """Width on paper [pt] by the first rule that gives one."""
    found = next(filter(None, (
        re.search(re.escape(s) + r"\{[^}]*?width:([\d.]+)(mm|cm)", paper)
        for s in selectors)))
    return float(found[1]) * POINTS[found[2]]


bad, seen = [], 0
narrow_least = re.search(r"\.narrow svg\{min-width:(\w+)", screen)[1]
if narrow_least != "0":
    bad.append(f"narrow pictures are {narrow_least} wide at least")
for section in re.findall(r"<section.*?</section>", page, re.S):
    name = re.match(r'<section id="([^"]*)"', section)[1]
    for figure in re.findall(r"<figure.*?</figure>", section, re.S):
        seen += 1
        wide = float(re.search(r'viewBox="\S+ \S+ (\S+)', figure)[1])
        letters = [float(size) for size in
                   re.findall(r"font-size=[\"']([\d.]+)", figure)]
        texts = re.findall(r"<text", figure)
        least = min(letters)
        science = name == "science"
        rules = (["#science .narrow", "#science figure"] if science else
                 ["section[id^=sheet-] figure"] if name.startswith("sheet-")
                 else ["figure"])
        paper_wide = printed(*rules)
        points = least * paper_wide / wide
        pixels = least * PHONE / wide
        if points < 9.5 or not texts:
            bad.append(f"{name}: {points:.1f} pt on paper")
        if pixels < 11 or 'class="narrow"' not in figure:
            bad.append(f"{name}: {pixels:.1f} px on a phone")
        if science and 2 * paper_wide > 186 * POINTS["mm"]:
            bad.append(f"{name}: no two pictures side by side")
if seen < int(sys.argv[2]):
    bad.append(f"{seen} pictures")
print(*sorted(set(bad)), sep="\n")
sys.exit(len(bad) > 0)
