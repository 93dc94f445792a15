# The lessons again, from the model files alone: every figure of their tables by
# sums over all sessions (Banister et al. 1975; Calvert et al. 1976; Busso 2003,
# eq. 2), filtered by SciPy; every number of an answer stands in its table or
# the table's caption.
#
#   lessons.py PROGRAM [MODEL...]      prints "MODEL: N figures, M numbers"
#
# SPDX-License-Identifier: GPL-3.0-or-later
import csv
import io
import re
import subprocess
import sys
import tempfile

import numpy as np
from scipy.signal import lfilter
from scipy.stats import norm

LONG = 2000  # days of usual training before


def run(*words):
    return subprocess.run([sys.argv[1], *words], check=True, capture_output=True,
                          text=True).stdout


class Model:
    def __init__(self, rows):
        p = {k: float(v) for k, v in rows.items() if k != "kind"}
        self.kind, self.p = rows["kind"], p
        self.usual = 100.0
        if self.kind == "variable-dose":  # best steady load, two digits
            a = 1 / np.expm1(1 / np.array([p["tau1"], p["tau2"]]))
            best = p["k1"] * a[0] / (2 * p["k3"] / -np.expm1(-1 / p["tau3"]) * a[1])
            unit = 10.0 ** (np.floor(np.log10(best)) - 1)
            self.usual = unit * round(best / unit)
        self.k2, self.k3 = p.get("k2", 0.0), p.get("k3", 0.0)
        self.tau3 = p.get("tau3", 2.3)  # Busso 2003
        if self.kind == "graded":
            self.grow(p["ratio"] * p["k1"], p["growth"])

    def grow(self, gain, growth):
        """Fatigue's gain in usual training, a share of which grows."""
        self.k2 = gain * (1 - growth)
        self.k3 = gain * growth * -np.expm1(-1 / self.tau3) / self.usual
        return self

    @property
    def gain(self):
        return self.k2 + self.k3 * self.usual / -np.expm1(-1 / self.tau3)

    def copy(self, **p):
        new = object.__new__(Model)
        new.__dict__ = dict(self.__dict__, p=dict(self.p, **p))
        return new

    def tires(self):
        return self.kind != "one-component"

    def linear(self):
        return self.kind not in ("variable-dose", "graded")

    # Fitness and fatigue before the session of the day behind the last load.
    def parts(self, loads, before=None):
        w = np.concatenate([np.full(LONG, before or 0.0), np.asarray(loads, float)])
        age = np.arange(len(w), 0, -1)
        p = self.p
        fit = p["k1"] * np.sum(w * np.exp(-age / p["tau1"]))
        if self.kind == "delayed":
            fit -= p["k1"] * np.sum(w * np.exp(-age / p["tau_rise"]))
        if not self.tires():
            return fit, 0.0
        memory = lfilter([1], [1, -np.exp(-1 / self.tau3)], w)
        return fit, np.sum((self.k2 + self.k3 * memory) * w * np.exp(-age / p["tau2"]))

    def readiness(self, loads, before=None):
        fit, tired = self.parts(loads, before)
        return self.p["p0"] + fit - tired

    def course(self, loads, days, before=None):
        return np.array([self.readiness(loads[:n], before) for n in range(days)])

    def gain_of(self, cuts):  # a cut for each day, the last one day before
        u = self.usual
        return (self.readiness(u * (1 - np.asarray(cuts)), u)
                - self.readiness(np.full(len(cuts), u), u))

    def influence(self, age):
        tail = np.full(age - 1, self.usual)
        up, down = (self.readiness(np.append([self.usual * x], tail), self.usual)
                    for x in (1.001, .999))
        return (up - down) / (.002 * self.usual)

    # Days from which training hurts, and which help most.
    def marks(self):
        if self.linear():
            from scipy.optimize import brentq, minimize_scalar
            f = self.form
            n = next((t for t in np.arange(60, .05, -.1) if f(t) < 0), None)
            t_n = brentq(f, n, n + .1) if n and f(n + .1) > 0 else np.nan
            best = minimize_scalar(lambda t: -f(t), bounds=(1, 200), method="bounded",
                                   options={"xatol": 1e-9})
            return t_n, best.x
        y = np.array([self.influence(a) for a in range(1, 400)])
        return 1.0 + np.flatnonzero(y < 0)[-1], 1.0 + np.argmax(y)

    def form(self, t):
        p = self.p
        y = p["k1"] * np.exp(-t / p["tau1"])
        if self.kind == "delayed":
            y -= p["k1"] * np.exp(-t / p["tau_rise"])
        return y - (self.k2 * np.exp(-t / p["tau2"]) if self.tires() else 0)


def model_of(name):
    rows = csv.DictReader(open(f"models/{name}.csv"))
    return Model({r["parameter"]: r["value"] for r in rows})


def twin_of(m):
    if m.kind not in ("two-component", "variable-dose", "graded"):
        return None
    twin = m.copy()
    twin.kind = "variable-dose" if m.linear() else "two-component"
    return twin.grow(m.gain, 1.0 if m.linear() else 0.0)


class Lesson:
    def __init__(self, name, model):
        text = run("lesson", name, "--model", model)
        self.text, self.name = text, name
        blocks = text.split("\n\n")
        self.answer = " ".join(next(b for b in blocks if b.startswith("Answer: "))
                               .split("\nLimit: ")[0].split())
        place = [b.startswith("Aim: ") for b in blocks].index(True)
        body = []
        for b in blocks[place + 1:]:
            if b.startswith("Answer: "):
                break
            body.append(b)
        self.rows = [re.split(r"\s{2,}", line.strip()) for line in body[0].split("\n")] \
            if body else []
        self.caption = " ".join(" ".join(body[1:]).split())

    def numbers(self):
        """Rows that hold numbers behind their first cell, as text."""
        return [r for r in self.rows if len(r) > 1 and re.fullmatch(r"[-+]?[\d.]+|none", r[1])]

    def check(self, got, want, what):
        if got == "none":
            assert np.isnan(want), (self.name, what, got, want)
            return
        digits = len(got.split(".")[1]) if "." in got else 0
        assert abs(float(got) - want) <= .51 * 10.0 ** -digits + 1e-9 * abs(want), \
            (self.name, what, got, want)

    def check_rows(self, want):
        """want: a list of rows, each a label and numbers."""
        got = self.numbers()
        assert len(got) == len(want), (self.name, got, want)
        for row, (label, *values) in zip(got, want):
            assert row[0] == str(label) or label is None, (self.name, row, label)
            for cell, value in zip(row[1:] if label is not None else row, values):
                self.check(cell, value, (label, row))
        return sum(len(r) - 1 for r in want)

    def readable(self):
        """Every number of the answer stands in table, caption or question."""
        words = re.sub(r"\([^()]*\b(19|20)\d\d[^()]*\)", "", self.answer)  # sources
        words = re.sub(r"sum to n(-1)?|Curve|day 0\b", "", words)
        shown = " ".join(" ".join(r) for r in self.rows) + " " + self.caption
        shown += " " + self.text.split("Question: ")[1].split("\n\n")[0]
        have = set(re.findall(r"\d+(?:\.\d+)?", shown))
        found = re.findall(r"(?<![\w.])\d+(?:\.\d+)?", words)
        for number in found:
            assert number in have, (self.name, number, self.answer, shown)
        return len(found)


# ---- each lesson's table ----

def equation(m):
    loads = [m.usual, 0, m.usual / 2] + [0] * 5
    rows = []
    for n in range(8):
        fit, tired = m.parts(loads[:n])
        rows.append([n, loads[n], fit, tired, m.p["p0"] + fit - tired])
    return rows


def session(m):
    y = m.course([m.usual] + [0] * 91, 91) - m.p["p0"]
    rows = [["load of the session", m.usual],
            ["fitness halves in", half_life(m, 0)]]
    if not m.tires():
        return rows
    rows.append(["fatigue halves in", half_life(m, 1)])
    back = next((n for n in range(1, 91) if y[n] > 0), 90)
    if y[1] >= 0 or back >= 90:
        return rows
    low, high = 1 + np.argmin(y[1:]), 1 + np.argmax(y[1:])
    return rows + [["lowest, below the level", -y[low]], ["lowest on day", low],
                   ["above the level from day", back], ["highest on day", high],
                   ["highest, above the level", y[high]]]


def half_life(m, part):
    return m.p["tau2" if part else "tau1"] * np.log(2)


def steady(m):
    loads = [m.usual] * 169
    y = m.course(loads, 169)
    rows = [["load of each day", m.usual],
            ["fitness at 90 % of its plateau (tau1 x ln 10)", m.p["tau1"] * np.log(10)],
            ["fitness on day 84", m.parts(loads[:84])[0]],
            ["fitness on day 168", m.parts(loads[:168])[0]]]
    if m.tires() and np.argmin(y) > 0:
        rows.append(["readiness lowest on day", np.argmin(y)])
    return rows


def deload(m):
    u = m.usual
    loads = [u] * 14 + [u / 2] * 7 + [u] * 60
    y = m.course(loads, 57, u)
    best = 14 + np.argmax(y[14:])
    rows = [["usual load", u]]
    if y[best] > y[14]:
        rows += [["readiness rises by", y[best] - y[14]], ["most on day", best - 14]]
    return rows + [["change on day 42", y[56] - y[14]]]


def overload(m):
    def weeks(model, hard, rest, days):
        u = model.usual
        loads = [u] * 7 + [hard * u] * 21 + [rest * u] * 14
        return model.readiness(loads[:days], u)

    def change(model, a, b):
        return [weeks(model, *a, n) - weeks(model, *b, n) for n in (28, 42)]

    hard, plain, on, none = (1.2, .5), (1, .5), (1.2, 1), (1, 1)
    rows = [["the taper alone", *change(m, plain, none)],
            ["the hard weeks, with the taper", *change(m, hard, plain)],
            ["the hard weeks, without it", *change(m, on, none)]]
    twin = twin_of(m)
    if twin:
        rows += [["twin: the hard weeks, with the taper", *change(twin, hard, plain)],
                 ["twin: the hard weeks, without it", *change(twin, on, none)]]
    return rows


def tapers(m):
    falls = [.75 * i / 13 for i in range(14)]
    return [["14 days at half", m.gain_of([.5] * 14)],
            ["a week at half, a week at a quarter", m.gain_of([.5] * 7 + [.75] * 7)],
            ["14 days falling to a quarter", m.gain_of(falls)],
            ["14 days of full rest", m.gain_of([1] * 14)],
            ["no taper", 0.0]]


def influence(m):
    if not m.tires():
        return []
    t_n, t_g = m.marks()
    if np.isnan(t_n):
        return []
    rows = [["training lowers readiness in the last (t_n)", t_n],
            ["training raises it most before (t_g)", t_g]]
    return rows + ([] if m.linear() else [["usual load", m.usual]])


def recovery(m):
    which = "tau2" if m.tires() else "tau1"
    rows = []
    for factor in (.6, 1, 1.5):
        tau = m.p[which] * factor
        if which == "tau2":
            tau = min(tau, .9 * m.p["tau1"])
        t_n = m.copy(**{which: tau}).marks()[0] if m.tires() else np.nan
        rows.append([None, tau, tau * np.log(2), t_n])
    return rows


def best_cut(m, days):
    gains = [m.gain_of([c / 100] * days) for c in range(0, 101, 2)]
    best = int(np.argmax(np.array(gains) - 1e-12 * np.arange(51)))
    return [2.0 * best if best else np.nan, gains[best], gains[-1]]


def optimiser(m):
    twin = twin_of(m)
    return [[days, *best_cut(m, days), *(best_cut(twin, days) if twin else [])]
            for days in (7, 14, 21, 28)]


def growth(m):
    if twin_of(m) is None:
        return []
    rows = []
    for percent in (0, 25, 50, 75, 100):
        g = m.copy()
        g.kind = "graded"
        cut, gain, rest = best_cut(g.grow(m.gain, percent / 100), 14)
        rows.append([percent, cut, gain, rest, gain - rest])
    return rows


def reading(m):
    def after(n):  # the day's own session adds its load at age 0
        u, loads = m.usual, [m.usual] * 6 + [0]
        fit, tired = m.parts(loads[:n], u)
        w = loads[n]
        memory = w + sum(x * np.exp(-(n - i) / m.tau3)
                         for i, x in enumerate([u] * LONG + loads[:n], -LONG))
        gain = m.k2 + m.k3 * memory if m.tires() else 0
        return (m.p["k1"] * (m.kind != "delayed") - gain) * w

    return [["load of a training day", m.usual], ["after minus before, day 0", after(0)],
            ["after minus before, day 6 (rest)", after(6)]]


def factors(m):
    """One factor: what stands fades as fitness does, a session's course is put on top."""
    lone = m.course([m.usual] + [0] * 90, 90) - m.p["p0"]
    two = m.course([m.usual] * 28 + [0] * 60, 60) - m.p["p0"]
    level = 0.0
    for _ in range(27):  # what stands when the last session begins
        level = level * np.exp(-1 / m.p["tau1"]) + lone[1]
    one = [level * np.exp(-n / m.p["tau1"]) + lone[n] for n in range(60)]
    return [["7 days after one session", lone[7], lone[7], 0.0],
            ["21 days after one session", lone[21], lone[21], 0.0],
            *([what, one[1 + n], two[28 + n], two[28 + n] - one[1 + n]]
              for what, n in (("the day after the block", 0), ("7 days later", 7),
                              ("21 days later", 21)))]


# Bosquet et al. 2007, Med Sci Sports Exerc 39:1358-1365: effect +/- half of the
# interval; Vachon et al. 2020, Eur J Sport Sci: effect, low, high.
def evidence(_):
    return [["volume cut 41-60 %", .72, .72 - .36, .72 + .36],
            ["taper of two weeks", .59, .59 - .33, .59 + .33],
            ["frequency kept", .35, .35 - .17, .35 + .17],
            ["intensity kept", .33, .33 - .14, .33 + .14],
            ["VO2max", .76, .43, 1.09], ["power", .44, .32, .56],
            ["repeated sprints", .41, .26, .55], ["change of direction", .38, .15, .60]]


def figure(name, model):
    series = {}
    for r in csv.DictReader(io.StringIO(run("lesson", name, "--model", model, "--csv"))):
        series.setdefault(r["series"], []).append((float(r["x"]), float(r["y"] or "nan")))
    return series


def retest(model):
    """Groups of the athletes drawn; what chance alone makes of the lowest quarter."""
    drawn = figure("retest", model)
    first = np.array([y for _, y in drawn["first test"]])
    again = np.array([y for _, y in drawn["retest, nothing done in between"]])
    assert len(first) == 160 and np.all(np.diff(first) >= 0)
    rows = [[who, b - a, first[a:b].mean(), again[a:b].mean(), (again - first)[a:b].mean()]
            for who, a, b in (("lowest quarter", 0, 40), ("middle half", 40, 120),
                              ("highest quarter", 120, 160), ("all", 0, 160))]
    lesson = Lesson("retest", model)
    lesson.check_rows(rows)
    low = norm.expect(lambda z: z, ub=norm.ppf(.25), conditional=True)
    chance = -low * 9 / 5  # ability 4 cm, error 3 cm: SD of a test 5 cm
    lesson.check(re.search(r"changes by \+(\S+) cm", lesson.caption)[1], chance, "chance")
    told = re.search(r"changed by (\S+) cm, the highest by (\S+), all together by (\S+)\.",
                     lesson.answer)
    for said, row in zip(told.groups(), (rows[0], rows[2], rows[3])):
        lesson.check(said, row[4], "change told")
    assert abs(rows[0][4] - chance) < 4 * np.hypot(3, 3) / np.sqrt(40)
    assert abs(rows[3][4]) < 4 * np.hypot(3, 3) / np.sqrt(160), "an effect"


def prediction(model):
    """The errors of the season drawn, from its figure; nested models in order."""
    drawn = figure("prediction", model)
    tests = drawn["tests; the last 4 were kept back"]
    lesson = Lesson("prediction", model)
    parts = re.search(r"each with (\d+) tests: (\d+) fitted, the last (\d+) kept back",
                      lesson.caption)
    assert list(map(int, parts.groups())) == [len(tests), len(tests) - 4, 4], parts
    rows = lesson.numbers()
    assert [r[0] for r in rows] == ["one component", "two components", "variable dose"]
    for row in rows:
        at = dict(drawn[row[0]])
        miss = np.array([(at[x] - y) ** 2 for x, y in tests])
        for cell, part in ((row[4], miss[:8]), (row[5], miss[8:])):
            assert abs(float(cell) - np.sqrt(part.mean())) < .0051, (row, part)
        assert float(row[2]) < float(row[3]), "fits worse than it predicts"
    assert float(rows[1][2]) <= float(rows[0][2]) and float(rows[1][4]) <= float(rows[0][4])


def truths(m, tables):
    """Each question's answer, from the tables above; nan: it has none."""
    def cell(lesson, row, column):
        rows = tables[lesson]
        return rows[row][column] if len(rows) > abs(row) - (row < 0) else np.nan

    t = tables
    course = m.course([m.usual] + [0] * 91, 91)
    taper, hard = cell("overload", 0, 2), cell("overload", 1, 2)
    gain = cell("tapers", 0, 1)
    days = [r for r in t["deload"] if r[0] == "most on day"]
    return {"equation": cell("equation", 3, 4) - m.p["p0"],
            "session": 1.0 + np.argmax(course[1:]), "steady": cell("steady", 1, 1),
            "deload": days[0][1] if days else np.nan,
            "overload": 100 * taper / (taper + hard) if taper > 0 and taper + hard > 0 else np.nan,
            "tapers": cell("tapers", 3, 1) / gain if gain > 0 else np.nan,
            "influence": cell("influence", 0, 1),
            "recovery": cell("recovery", 2, 3) - cell("recovery", 1, 3),
            "growth": cell("growth", 4, 1),
            "optimiser": np.nan_to_num(cell("optimiser", 1, 1)),
            "reading": cell("reading", 1, 1), "factors": cell("factors", 4, 2),
            "evidence": .72}


def check_truths(model, want, path):
    for lesson, value in want.items():
        got = subprocess.run([sys.argv[1], "lesson", lesson, "--model", model, "--answers",
                              path, "--csv"], capture_output=True, text=True)
        if np.isnan(value):
            assert got.returncode == 1 and "no number as its answer" in got.stderr, lesson
            continue
        row = next(csv.DictReader(io.StringIO(got.stdout)))
        assert np.isclose(float(row["truth"]), value, rtol=1e-6, atol=1e-6), (lesson, row, value)
        assert np.isclose(float(row["error"]), 3 - value, rtol=1e-6, atol=1e-6), (lesson, row)


def approach(model):
    """Each number of the answer is that of its own row."""
    lesson = Lesson("approach", model)
    rows = {r[0]: r[1] for r in lesson.numbers()}
    said = re.search(r", (\S+) of the load so far hurts; .* it is the last (\S+) that "
                     r"hurts, (\S+) % of all", lesson.answer)
    assert (said is None) == (float(rows["on the day of the event, load that hurts"]) == 0)
    assert said is None or list(said.groups()) == [
        rows["looked at 35 days before, load that hurts"],
        rows["on the day of the event, load that hurts"], rows["of all load"]], said


TABLES = [equation, session, steady, deload, overload, tapers, influence, recovery, growth,
          optimiser, reading, factors]


def main():
    rows = Lesson("evidence", "literature").rows
    for row, want in zip(rows[1:], evidence(None), strict=True):
        assert row[0] == want[0] and np.allclose([float(x) for x in row[2:5]], want[1:],
                                                 atol=1e-9), (row, want)
    names = sys.argv[2:] or [r["model"] for r in
                             csv.DictReader(io.StringIO(run("models", "--csv")))]
    for name in names:
        m, figures, numbers = model_of(name), 0, 0
        tables = {table.__name__: table(m) for table in TABLES}
        for lesson, rows in tables.items():
            figures += Lesson(lesson, name).check_rows(rows)
        with tempfile.NamedTemporaryFile("w", suffix=".csv") as answers:
            answers.write("student,answer\none,3\n")
            answers.flush()
            check_truths(name, truths(m, tables), answers.name)
        retest(name)
        prediction(name)
        approach(name)
        listed = run("lesson", "--list").split("\n")
        for line in listed:
            if line.strip():
                numbers += Lesson(line.split()[0], name).readable()
        print(f"{name}: figures and numbers agree" if figures > 30 and numbers > 15
              else f"{name}: only {figures} figures, {numbers} numbers")


main()
