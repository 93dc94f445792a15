# Every answer of the key again, from the words and tables of the worksheet
# alone, by the rules that a student has; rounded as the key is.
#
#   worksheet.py FOLDER      prints how many sheets agree, and of how many
#
# SPDX-License-Identifier: GPL-3.0-or-later
import html
import math
import re
import sys


def read(name):
    return open(f"{sys.argv[1]}/{name}.html", encoding="utf-8").read()


def table(text, caption):
    part = text[text.index(caption):]
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", part[:part.index("</table>")], re.S)[1:]
    return [re.findall(r">([^<>]*)</t[hd]>", row) for row in rows]


def plain(text):
    return html.unescape(re.sub(r"<[^>]*>", " ", text))


def rms(a, b):
    return "%.1f" % math.sqrt(sum((x - y) ** 2 for x, y in zip(a, b)) / len(a))


def numbers(pattern, text):
    return [float(x) for x in re.search(pattern, text).groups()]


def influence(taus, gains, age):
    return sum(sign * k * math.exp(-age / t) for sign, k, t in zip((1, -1), gains, taus))


def expected(ask):
    words = plain(ask)
    taus = [float(x) for x in re.findall(r"tau[12] = (\d+) d", words)]
    want = ["%.1f" % (t * math.log(2)) for t in taus]
    fitness = 0
    for _, load in table(ask, "Loads for question 2"):
        fitness = (fitness + float(load)) * math.exp(-1 / taus[0])
    want.append("%.0f" % fitness)
    gains = [1.0]  # the one-component preset
    if "k2 =" in words:
        gains = numbers(r"k1 = (\S+), k2 = (\S+):", words)
        c = taus[0] * taus[1] / (taus[0] - taus[1])
        t_n = c * math.log(gains[1] / gains[0])
        want.append("%.1f" % t_n)
        want.append("%.1f" % (c * math.log(taus[0] * gains[1] / taus[1] / gains[0])))
    near = table(ask, "Influences for question 5")
    if len(gains) == len(taus):
        load, far, close = numbers(r"a load of (\d+), trained (\d+) days .*?session (\d+) days",
                                   words)
        there = influence(taus, gains, far)
        want += ["%+.3g" % (load * there), "%.3g" % there,
                 "hurts" if influence(taus, gains, close) < 0 else "helps"]
        for age, value in near:
            assert value == "%.3g" % influence(taus, gains, int(age)), value
    load, cut_a, days_a, cut_b, days_b = numbers(
        r"usual load is (\d+) a day. Taper A cuts (\d+) % .*? last (\d+) days, "
        r"taper B (\d+) % on the last (\d+)", words)
    weights = [float(value) for _, value in near]
    a = sum(-load * cut_a / 100 * w for w in weights[:int(days_a)])
    b = sum(-load * cut_b / 100 * w for w in weights[:int(days_b)])
    want += ["%+.3g" % a, "%+.3g" % b, "A" if a > b else "B"]
    rows = table(ask, "Tests and models for question 6")
    said = {}
    for used in ("fitted", "kept back"):
        own = [[float(x) for x in row[2:5]] for row in rows if row[5] == used]
        measured, model_a, model_b = zip(*own)
        said[used] = rms(model_a, measured), rms(model_b, measured)
    want += [said["fitted"][0], said["kept back"][0], said["fitted"][1], said["kept back"][1]]
    over = (float(said["fitted"][0]) <= float(said["fitted"][1])
            and float(said["kept back"][0]) > float(said["kept back"][1]))
    want.append("A overfits" if over else "no, A does not overfit here")
    return want


def given(key, curve):
    words = plain(key)
    got = re.findall(r"halves in (\S+) d", words) + re.findall(r"fatigue in (\S+) d", words)
    got += re.findall(r"Question 2: (\d+)", words)
    got += re.findall(r"t_[ng] (\S+) d", words)
    if curve:
        got += re.search(r"Question 4: (\S+) \((\S+) per unit.*: (helps|hurts)", words).groups()
    got += re.search(r"A (\S+), B (\S+): (A|B) is better", words).groups()
    got += re.search(r"Question 6: A (\S+) fitted, (\S+) kept back; B (\S+) fitted, (\S+) kept back: "
                     r"(A overfits|no, A does not overfit here)", words).groups()
    return got


good, asked, kept = 0, \
    re.findall(r'<section id="sheet-(\d+)"(.*?)</section>', read("worksheet"), re.S), \
    re.findall(r">Sheet (\d+), (.*?)</ul>", read("answers"), re.S)
verdicts = set()
for (number, ask), (same, key) in zip(asked, kept):
    words = plain(ask)
    curve = "k2 =" in words or "tau2 =" not in words
    want, got = expected(ask), given(key, curve)
    verdicts.add(want[-1])
    good += number == same and want == got and ask.count("<svg") == 1
    if want != got:
        print(number, want, got)
print(good, "of", len(asked), "with", len(kept), "answers;",
      "both verdicts" if len(verdicts) == 2 else "one verdict")
