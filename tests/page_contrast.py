"""Contrast of the page's colours, light and dark (WCAG 2.1, 1.4.3: relative
luminance and its ratio), at least 4.5 to 1 for text.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re
import sys

source = open(sys.argv[1]).read()
style = "".join(re.findall(r'"((?:[^"\\]|\\.)*)"', source))
themes = re.findall(r":root\{([^}]*)\}", style)
assert len(themes) == 2, themes


def luminance(colour):
    channels = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= .04045 else ((c + .055) / 1.055) ** 2.4
              for c in channels]
    return .2126 * linear[0] + .7152 * linear[1] + .0722 * linear[2]


def ratio(a, b):
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + .05) / (dark + .05)


assert abs(ratio("#ffffff", "#000000") - 21) < 1e-9
worst = 21
for theme in themes:
    c = dict(re.findall(r"--([a-z-]+):(#[0-9a-f]{6})", theme))
    for ink, paper in (("ink", "paper"), ("soft", "paper"), ("ink", "tint"),
                       ("warn", "warn-paper"), ("link", "paper")):
        worst = min(worst, ratio(c[ink], c[paper]))
worst = min(worst, ratio("#444444", "#ffffff"))  # captions of pictures
print("contrast: at least %.1f to 1" % worst)
sys.exit(worst < 4.5)
