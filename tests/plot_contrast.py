"""Every colour of plots/*.gp against white (WCAG 2.1, 1.4.3 and 1.4.11): text
4.5 to 1, lines and points 3 to 1, fills 3 to 1 or a border that has it; and
what a legend tells apart differs by more than its hue: in dashes, width, symbol
or pattern, or in lightness.

White itself is the halo under a mark; c_rule draws the grid behind, whose
numbers stand at the axes; palettes have a scale or numbers in their cells.

    plot_contrast.py FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import glob
import itertools
import os
import re
import sys

COLOUR = r"(?:\([^)]*\)|'#[0-9A-Fa-f]+'|\w+(?:\[[^]]*\])?)"
USE = re.compile(rf"(textcolor|linecolor|fillcolor|border) rgb ({COLOUR})")
bad, counted, worst = [], 0, 21.0


def luminance(colour):
    """With transparency (AARRGGBB, 00 opaque) as it shows on white."""
    digits = colour.strip("'#")
    alpha = int(digits[:-6], 16) / 255 if len(digits) == 8 else 0
    channels = [alpha + (1 - alpha) * int(digits[-6:][i:i + 2], 16) / 255
                for i in (0, 2, 4)]
    linear = [c / 12.92 if c <= .04045 else ((c + .055) / 1.055) ** 2.4
              for c in channels]
    return .2126 * linear[0] + .7152 * linear[1] + .0722 * linear[2]


def ratio(a, b="#FFFFFF"):
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + .05) / (dark + .05)


def definitions(*texts):
    """Names, each with all that is assigned to it."""
    found = {}
    for text in texts:
        for name, value in re.findall(
                r"\b([cs]_\w+|\w*colour)(?:\[[^]]*\])? = ([^\n}=]*)", text):
            if re.search(r"#[0-9A-F]{6}|\b[cs]_\w+", value):
                found.setdefault(name, []).append(value)
    return found


def colours(what, names):
    """All colours that an expression may be."""
    got = re.findall(r"#[0-9A-Fa-f]{6,8}", what)
    for name in re.findall(r"\b[a-z]\w*", re.sub(r"'[^']*'|\b\[.*?\]", "",
                                                 what)):
        for value in names.get(name, []):
            got += colours(value, {k: v for k, v in names.items()
                                   if k != name})
    return got


def edged(shade, text):
    """gnuplot draws no border of what lies between two lines: those are drawn
    by themselves. s_help lies between the curve and zero, which always are."""
    return shade == "s_help" or re.search(
        r"with lines linewidth [.\d]+ linecolor rgb c_edge", text)


def judge(file, line, names, text):
    global counted, worst
    for found in USE.finditer(line):
        kind, what = found[1], found[2]
        behind = what == "c_rule" and ("set grid" in line or
                                       "fillstyle empty border" in line)
        each = colours(what, names)
        if not each:
            bad.append(f"{file}: no colour is known of {found[0]}")
        if kind == "fillcolor":  # or its border, which is judged by itself
            rest = re.split(r"\bnotitle|\btitle|, \\", line[found.end():])[0]
            behind = re.search(r"\bborder (?:linecolor )?rgb", rest) or \
                "filledcurves" in line and edged(what, text)
        for colour in each:
            counted += 1
            if behind or colour == "#FFFFFF":
                continue
            worst = min(worst, ratio(colour))
            if ratio(colour) < (4.5 if kind == "textcolor" else 3):
                bad.append(f"{file}: {found[0]} {colour}: "
                           f"{ratio(colour):.2f} to 1")


def looks(text, names):
    """What each entry of a legend looks like, without and with its colour."""
    for entry in re.findall(r"keyentry with (.*?) title", text):
        yield (USE.sub("", entry),
               [c for _, what in USE.findall(entry)
                for c in colours(what, names)])


def tell_apart(file, text, names):
    for (a, hue_a), (b, hue_b) in itertools.combinations(
            looks(text, names), 2):
        if a == b and "[" not in a and ratio(hue_a[0], hue_b[0]) < 1.3:
            bad.append(f"{file}: alike but for their hue: {a}")
    for symbols in re.findall(r"array symbol\[\d+\] = \[(.*?)\]", text):
        numbers = symbols.split(", ")
        if len(set(numbers)) != len(numbers):
            bad.append(f"{file}: a symbol stands twice: {symbols}")


def main():
    folder = sys.argv[1]
    assert abs(ratio("#767676") - 4.54) < .005  # as WCAG's own examples have it
    assert abs(ratio("#000000") - 21) < 1e-9
    common = open(f"{folder}/common.gp", encoding="utf8").read()
    for path in sorted(glob.glob(f"{folder}/*.gp")):
        text = open(path, encoding="utf8").read()
        file, names = os.path.basename(path), definitions(common, text)
        code = [line for line in text.splitlines() if line[:1] != "#"]
        for line in code:
            judge(file, line, names, text)
        tell_apart(file, "\n".join(code), names)
    print(*bad[:20], sep="\n", end="\n" if bad else "")
    if not bad:
        print("good", counted > 100)
    print(f"{counted} colours, at least {worst:.2f} to 1", file=sys.stderr)


main()
