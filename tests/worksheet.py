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

from scipy.stats import norm


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


class Model:
    """The model of a sheet by plain sums over sessions, from its first line."""

    def __init__(self, words):
        line = re.search(r"Model of this sheet: ([a-z-]+), (.*?); usual load (\S+) a day", words)
        self.kind, self.usual = line[1], float(line[3])
        self.p = p = {k: float(v) for k, v in re.findall(r"(\w+) (\S+?)(?: d)?(?:,|$)", line[2])}
        if self.kind == "graded":  # the share that grows is 1 at the usual load
            gain, g = p["k1"] * p["ratio"], p["growth"]
            memory = self.usual * sum(math.exp(-i / p["tau3"]) for i in range(200))
            p["k2"], p["k3"] = gain * (1 - g), gain * g / memory

    # Readiness before the session of the last day, loads[0] the oldest; before
    # them the usual load, as far back as it counts.
    def readiness(self, loads):
        loads = [self.usual] * 1500 + list(loads)
        p, n, memory, total = self.p, len(loads), 0.0, 0.0
        for i, w in enumerate(loads):
            age = n - i
            total += p["k1"] * w * math.exp(-age / p["tau1"])
            if self.kind == "delayed":
                total -= p["k1"] * w * math.exp(-age / p["tau_rise"])
            if "k2" in p:
                total -= p["k2"] * w * math.exp(-age / p["tau2"])
            if "k3" in p:
                memory = memory * math.exp(-1 / p["tau3"]) + w
                total -= p["k3"] * memory * w * math.exp(-age / p["tau2"])
        return total

    # Of one unit of load, so many days before; a quadratic's slope is exact.
    def influence(self, age):
        after = [self.usual] * (age - 1)
        return (self.readiness([self.usual + 1] + after)
                - self.readiness([self.usual - 1] + after)) / 2

    def gain(self, load, days, cut):
        usual, self.usual = self.usual, load
        gain = (self.readiness([load * (1 - cut / 100)] * int(days))
                - self.readiness([load] * int(days)))
        self.usual = usual
        return gain


def taper_words(a, b):
    return ["%+.3g" % a, "%+.3g" % b, "A" if a > b else "B"]


# What an answer means: per cent that a taper does not help, whether the range
# leaves room for a loss; the change by chance of a lowest quarter.
def interpreted(words):
    gain, low, high, helps, said = numbers(
        r"expected gain (\S+) %, 90 % range (\S+) to (\S+) %, helps in (\d+) of 100 .*"
        r"You will gain (\S+) %", words)
    assert said == gain and abs(low + high - 2 * gain) < .11, (gain, low, high)
    sure = 100 * norm.cdf(gain / ((high - low) / 2 / norm.ppf(.95)))
    assert abs(helps - sure) < 4, (helps, sure)  # the range has one decimal
    want = ["%.0f" % (100 - helps), "leaves room" if low <= 0 else "lies above"]
    sd, error, better = numbers(
        r"first test is (\S+) cm, its typical error (\S+) cm\. .* jumps (\S+) cm higher", words)
    lowest = norm.expect(lambda z: z, ub=norm.ppf(.25), conditional=True)
    chance = "%.2f" % (1.271 * error ** 2 / sd)
    assert abs(float(chance) + lowest * error ** 2 / sd) < .006, (chance, lowest)
    return want + [chance, "all" if better <= float(chance) + 1e-9 else "a part"]


def expected(ask):
    words = plain(ask)
    marks = [int(n) for n in re.findall(r"\d\. [^(]*\((?:easy|middle|hard|interpret), (\d) marks\)",
                                        words)]
    assert len(marks) == 8 and sum(marks) == 20 and "of 20" in words, marks
    assert ask.count('class="write"') == 8, "room to write"
    model = Model(words)
    taus = [float(x) for x in re.findall(r"tau[12] = (\d+) d", words)]
    assert taus == [model.p[t] for t in ("tau1", "tau2") if t in model.p], (taus, model.p)
    want = ["%.1f" % (t * math.log(2)) for t in taus]
    fitness = 0
    for _, load in table(ask, "Loads for question 2"):
        fitness = (fitness + float(load)) * math.exp(-1 / taus[0])
    want.append("%.0f" % fitness)
    if "k2 =" in words:
        k1, k2 = numbers(r"k1 = (\S+), k2 = (\S+):", words)
        c = taus[0] * taus[1] / (taus[0] - taus[1])
        want.append("%.1f" % (c * math.log(k2 / k1)))
        want.append("%.1f" % (c * math.log(taus[0] * k2 / taus[1] / k1)))
    load, far, close = numbers(r"a load of (\d+), trained (\d+) days .*?session (\d+) days",
                               words)
    there = model.influence(int(far))
    want += ["%+.3g" % (load * there), "%.3g" % there,
             "hurts" if model.influence(int(close)) < 0 else "helps"]
    near = table(ask, "Influences for question 5")
    for age, value in near:
        assert value == "%.3g" % model.influence(int(age)), (age, value)
    load, cut_a, days_a, cut_b, days_b = numbers(
        r"usual load is (\S+) a day. Taper A cuts (\d+) % .*? last (\d+) days, "
        r"taper B (\d+) % on the last (\d+)", words)
    weights = [float(value) for _, value in near]
    a = sum(-load * cut_a / 100 * w for w in weights[:int(days_a)])
    b = sum(-load * cut_b / 100 * w for w in weights[:int(days_b)])
    want += taper_words(a, b)
    exact = model.gain(load, days_a, cut_a), model.gain(load, days_b, cut_b)
    if "k3" in model.p:
        want += taper_words(*exact)
        assert exact[0] <= a and exact[1] <= b, "the estimate promises too much"
    else:  # the printed influences have three digits
        slack = .006 * load * sum(abs(w) for w in weights)
        assert abs(exact[0] - a) < slack and abs(exact[1] - b) < slack, (exact, a, b)
    rows = table(ask, "Tests and models for question 6")
    said = {}
    for used in ("fitted", "kept back"):
        own = [[float(x) for x in row[2:5]] for row in rows if row[5] == used]
        measured, model_a, model_b = zip(*own)
        said[used] = rms(model_a, measured), rms(model_b, measured)
    want += [said["fitted"][0], said["kept back"][0], said["fitted"][1], said["kept back"][1]]
    kept = [float(x) for x in said["kept back"]]
    want.append("A overfits" if kept[0] > kept[1] else
                "A is worth it" if kept[0] < kept[1] else "these tests cannot tell")
    return want + interpreted(words)


def given(key):
    words = plain(key)
    got = re.findall(r"halves in (\S+) d", words) + re.findall(r"fatigue in (\S+) d", words)
    got += re.findall(r"Question 2: (\d+)", words)
    got += re.findall(r"t_[ng] (\S+) d", words)
    got += re.search(r"Question 4: (\S+) \((\S+) per unit.*: (helps|hurts)", words).groups()
    for tapers in re.findall(r"A ([+-]\S+), B (\S+): (A|B) is better", words):
        got += tapers
    got += re.search(r"Question 6: A (\S+) fitted, (\S+) kept back; B (\S+) fitted, (\S+) kept back: "
                     r"(A overfits|A is worth it|these tests cannot tell)", words).groups()
    got += re.search(r"Question 7: it does not help in (\d+) of 100; the range (leaves room|"
                     r"lies above)", words).groups()
    got += re.search(r"Question 8: (\S+) cm by chance alone: it explains (all|a part)",
                     words).groups()
    assert words.count("Working: ") >= 5, words
    return got


good, asked, kept = 0, \
    re.findall(r'<section id="sheet-(\d+)"(.*?)</section>', read("worksheet"), re.S), \
    re.findall(r">Sheet (\d+), (.*?)</ul>", read("answers"), re.S)
verdicts = set()
for (number, ask), (same, key) in zip(asked, kept):
    want, got = expected(ask), given(key)
    verdicts.add(want[-5])
    good += number == same and want == got and ask.count("<svg") == 1
    if want != got:
        print(number, want, got)
print(good, "of", len(asked), "with", len(kept), "answers;",
      "several verdicts" if len(verdicts) > 1 else "one verdict")
