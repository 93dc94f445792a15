#!/usr/bin/python3
"""What a picture shows is what the command says: every block of data sent to
gnuplot is compared with the CSV of the same answer.

    pictures.py PROGRAM

A stand-in for gnuplot keeps what it is sent. Prints a line a picture with the
number of figures compared, and ends with exit code 1 if one differs.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import io
import math
import os
import re
import shutil
import subprocess
import sys
import tempfile
from datetime import date, timedelta

PROGRAM = os.path.abspath(sys.argv[1])
SEASON = "data/demo"
STAND_IN = r'''#!/usr/bin/python3
import re, sys
sent = sys.stdin.buffer.read().decode("utf8")
for path in re.findall(r'^set output "(.*)"$', sent, re.M):
    path = re.sub(r"\\(0[0-7]{3}|[0-7]{3})", lambda m: chr(int(m[1], 8)), path)
    with open(path, "w", encoding="utf8") as file:
        file.write("<svg><title></title><desc></desc>"
                   "<![CDATA[" + sent + "]]></svg>\n")
        if "set terminal gif" in sent:
            file.write(";")
'''
bad = []


def run(*words):
    done = subprocess.run([PROGRAM, *words, "--quiet"], capture_output=True,
                          text=True, check=False)
    if done.returncode:
        raise SystemExit(f"{words}: exit {done.returncode}: {done.stderr}")
    return done.stdout


def table(*words):
    return list(csv.DictReader(io.StringIO(run(*words, "--csv"))))


def day_of(seconds):
    return str(date(1970, 1, 1) + timedelta(days=round(float(seconds) / 86400)))


class Picture:
    """The blocks and variables of one picture; counts what is compared."""

    def __init__(self, folder, name):
        with open(f"{folder}/{name}.svg", encoding="utf8") as file:
            text = file.read()
        self.name, self.count = name, 0
        self.blocks = {
            key: [line.split() for line in rows.splitlines()]
            for key, rows in re.findall(
                r"^\$(\w+) << END_OF_ROWS\n(.*?)^END_OF_ROWS$", text,
                re.M | re.S)}
        self.values = dict(re.findall(r"^(\w+) = (.*)$", text, re.M))
        self.words = re.search(r"<desc>(.*?)</desc>", text, re.S)[1]

    def same(self, shown, said, where):
        """A figure of the picture and one of a table, to nine digits."""
        self.count += 1
        shown = float(shown)
        said = float(said) if said not in ("", None) else math.nan
        if math.isnan(shown) and math.isnan(said):
            return
        if not math.isclose(shown, said, rel_tol=2e-9, abs_tol=2e-9):
            bad.append(f"{self.name}: {where}: {shown} drawn, {said} said")

    def told(self, name, drawn):
        """A curve's first, last, least and largest figure, to four digits in the
        words for those who cannot see it."""
        said = re.search(name + r" begins at (\S+), ends at (\S+), lies between "
                         r"(\S+) and (\S+)\. ", self.words)
        for word, figure in zip(said.groups(), (drawn[0], drawn[-1], min(drawn),
                                                max(drawn)), strict=True):
            self.same(word, f"{figure:.4g}", name)

    def text(self, key):
        return re.sub(r"\\(0[0-7]{3}|[0-7]{3})", lambda m: chr(int(m[1], 8)),
                      self.values[key].strip('"')).encode("latin1").decode()

    def done(self, least):
        print(f"{self.name}: {self.count} figures")
        if self.count < least:
            bad.append(f"{self.name}: {self.count} figures compared, expected "
                       f"{least}")


def by_date(rows):
    return {row["date"]: row for row in rows}


def days_of_season(picture, rows):
    """$days of season.gp against simulate's rows."""
    said = by_date(rows)
    for row in picture.blocks["days"]:
        day = day_of(row[0])
        for shown, column in zip(row[1:7], ("load", "fitness", "fatigue",
                                            "readiness", "low", "high")):
            picture.same(shown, said[day][column], f"{day} {column}")
    for at, name in ((2, "fitness"), (3, "fatigue"), (4, "readiness")):
        shown = [float(row[at]) for row in picture.blocks["days"]]
        some = any(not math.isnan(x) and (x or name != "fatigue") for x in shown)
        picture.same(picture.values[f"has_{name}"], some, f"has_{name}")
    if len(picture.blocks["days"]) != len(said):
        bad.append(f"{picture.name}: {len(picture.blocks['days'])} days, "
                   f"expected {len(said)}")


def tests_of(picture, athlete, kind):
    with open(f"{SEASON}/tests.csv", encoding="utf8") as file:
        said = [(row["date"], row["value"]) for row in csv.DictReader(file)
                if row["athlete"] == athlete and row["test"] == kind]
    shown = picture.blocks["tests"]
    for row, (day, value) in zip(shown, sorted(said), strict=True):
        if day_of(row[0]) != day:
            bad.append(f"{picture.name}: a test on {day_of(row[0])}, {day} said")
        picture.same(row[1], value, f"test of {day}")


def season(folder, who, kind):
    run("simulate", SEASON, "--athlete", who, "--out", folder)
    picture = Picture(folder, f"{who}-season")
    days_of_season(picture, table("simulate", SEASON, "--athlete", who))
    tests_of(picture, who, kind)
    picture.done(1000)


def blocks_to_come(folder, who):
    """$weeks of season.gp against the weeks of blocks.csv."""
    season_folder = f"{folder}/blocks"
    shutil.copytree(SEASON, season_folder)
    with open(f"{season_folder}/blocks.csv", "w", encoding="utf8") as file:
        file.write("start,weeks,block,volume,rise\n"
                   "2026-03-30,2,build,105,5\n2026-04-13,1,deload,60,\n")
    run("simulate", season_folder, "--athlete", who, "--out", folder,
        "--model", "classic")
    picture = Picture(folder, f"{who}-season")
    wanted = [("2026-03-30", "2026-04-05", "2026-04-12", "build"),
              ("2026-04-06", "2026-04-12", "2026-04-12", ""),
              ("2026-04-13", "2026-04-19", "2026-04-19", "deload")]
    shown = [(*(day_of(cell) for cell in row[:3]),
              picture.text(f"week_name_{i + 1}"))
             for i, row in enumerate(picture.blocks["weeks"])]
    if shown != wanted:
        bad.append(f"{picture.name}: weeks {shown}, expected {wanted}")


def taper(folder, who, kind):
    """The taper's season, the map, the event's sessions."""
    run("taper", SEASON, "--athlete", who, "--out", folder)
    rows = table("taper", SEASON, "--athlete", who)
    assigned = next(r["option"] for r in rows if r["tag"] == "recommended")
    with_taper = table("simulate", SEASON, "--athlete", who, "--option",
                       assigned)
    picture = Picture(folder, f"{who}-taper")
    days_of_season(picture, with_taper)
    tests_of(picture, who, kind)
    picture.done(1000)
    cells(Picture(folder, f"{who}-map"), who)
    outline(Picture(folder, f"{who}-map"), rows)
    deep = ("--athlete", "back-03", "--max-cut", "95", "--shapes", "step")
    run("taper", SEASON, *deep, "--out", folder)
    outline(Picture(folder, "back-03-map"), table("taper", SEASON, *deep))
    readings(Picture(folder, f"{who}-sessions"), who, by_date(with_taper),
             rows[0]["event"])


def handed(folder, who):
    """A plan handed out is drawn where it stands, and not where a new one is
    worth it or it is left aside."""
    away = f"{folder}/handed"
    shutil.copytree(SEASON, away)
    asked = (away, "--athlete", who)
    for option, more, stands in (("13d-75", (), True), ("14d-50", (), False),
                                 ("13d-75", ("--ignore-plan",), False)):
        run("plan", *asked, "--option", option, "--hand-out", "--replace")
        said = run("taper", *asked, *more, "--out", folder)
        if ("Carry it on" in said) != stands:
            bad.append(f"{option} {more}: {said}")
        anew = [r["option"] for r in table("taper", *asked, "--ignore-plan")
                if r["tag"] == "recommended"]
        carried = table("simulate", *asked, *(
            () if stands else ("--ignore-plan", "--option", *anew)))
        season_of = Picture(folder, f"{who}-taper")
        days_of_season(season_of, carried)
        season_of.same(season_of.values["handed"], stands, "handed")
        with open(f"{away}/plan.csv", encoding="utf8") as file:
            cut = min(r["date"] for r in csv.DictReader(file)
                      if float(r["cut"]) > 0)
        first = cut if stands else str(date(2026, 4, 25) - timedelta(
            days=int(anew[0].split("d")[0])))
        if day_of(season_of.values["taper_from"]) != first:
            bad.append(f"{option} {more}: shaded from "
                       f"{day_of(season_of.values['taper_from'])}")
        season_of.done(1000)
        picture = Picture(folder, f"{who}-sessions")
        if ("plan handed out" in picture.text("taper_name")) != stands:
            bad.append(f"{picture.name}: {picture.text('taper_name')}")
        at = next(r for r in picture.blocks["readings"] if float(r[0]) == 0)
        day = by_date(carried)["2026-04-25"]
        for shown, column in zip(at[5:8], ("readiness", "low", "high")):
            picture.same(shown, day[column], column)
        picture.done(3)


def together(folder, who):
    """Where all sessions are the team's, the days drawn are those of the common
    taper, whatever an athlete would like alone."""
    away = f"{folder}/together"
    shutil.copytree(SEASON, away)
    with open(f"{away}/week.csv", encoding="utf8") as file:
        head, *rows = file.read().split("\n")
    with open(f"{away}/week.csv", "w", encoding="utf8") as file:
        print(f"{head},team", *(f"{r},yes" for r in rows if r), sep="\n",
              file=file)
    asked = (away, "--athlete", who)
    run("taper", *asked, "--individual", "--out", folder)
    own = [r["option"] for r in table("taper", *asked, "--individual")
           if r["tag"] == "recommended"]
    common, = {r["option"] for r in table("taper", away)
               if r["tag"] == "recommended"}
    if own == [common]:
        bad.append(f"{who} would like nothing else than {common}")
    carried = table("simulate", *asked, "--option", common)
    season_of = Picture(folder, f"{who}-taper")
    days_of_season(season_of, carried)
    season_of.done(1000)
    picture = Picture(folder, f"{who}-sessions")
    if common not in picture.text("taper_name"):
        bad.append(f"{picture.name}: {picture.text('taper_name')}")
    readings(picture, who, by_date(carried), table("taper", away)[0]["event"])


def cells(picture, who):
    """The map: shares, and in how many of 100 models each helps."""
    shares = {(int(r[0]), int(r[1])): r[2] for r in picture.blocks["map"] if r}
    chance = {(int(r[0]), int(r[1])): r[2] for r in picture.blocks["chance"] if r}
    some = [(n, cut) for n in (1, 2, 7, 10, 13, 14, 21, 27)
            for cut in (5, 40, 75) if (n, cut) in shares]
    words = [w for n, cut in some for w in ("--option", f"{n}d-{cut}")]
    said = {r["option"]: r for r in table("compare", SEASON, "--athlete", who,
                                          *words)}
    for n, cut in some:
        row = said[f"{n}d-{cut}"]
        picture.same(shares[n, cut], row["share"], f"share of {n}d-{cut}")
        picture.same(float(chance[n, cut]) / 100, row["beats_none"],
                     f"chance of {n}d-{cut}")
    picture.done(20)


def outline(picture, rows):
    """Of the map: the edges between cells within 5 % of the best option's gain
    and the others."""
    best = float(next(r["share"] for r in rows if r["tag"] == "best"))
    good = {(int(r[0]), int(r[1])) for r in picture.blocks["map"]
            if r and float(r[1]) > 0 and float(r[2]) >= .95 * best}
    wanted = set()
    for n, cut in good:
        left, low = n - .5, cut - 2.5
        wanted ^= {(left, low, 0, 5), (left + 1, low, 0, 5),
                   (left, low, 1, 0), (left, low + 5, 1, 0)}
    shown = [tuple(map(float, row)) for row in picture.blocks["outline"]]
    picture.count += len(shown)
    if set(shown) != wanted or len(shown) != len(wanted):
        bad.append(f"{picture.name}: outline of {len(shown)} edges, expected "
                   f"{len(wanted)}: {set(shown) ^ wanted}")
    picture.done(4)


def readings(picture, who, with_taper, event):
    """Readiness by session: on whole days before the event as simulate has."""
    without = by_date(table("simulate", SEASON, "--athlete", who))
    with open(f"{SEASON}/events.csv", encoding="utf8") as file:
        start = date.fromisoformat(next(
            r["start"] for r in csv.DictReader(file) if r["event"] == event))
    for row in picture.blocks["readings"]:
        day = str(start + timedelta(days=math.floor(float(row[0]))))
        if float(row[0]) > 0 or day not in with_taper:
            continue
        for k, of in enumerate((without, with_taper)):
            for j, column in enumerate(("readiness", "low", "high")):
                picture.same(row[2 + 3 * k + j], of[day][column],
                             f"{row[0]} {column}")
    picture.done(18)


def comparison(folder, who):
    options = ("14d-50", "3d-100")
    words = [w for option in options for w in ("--option", option)]
    run("compare", SEASON, "--athlete", who, *words, "--out", folder)
    said = [by_date(table("simulate", SEASON, "--athlete", who, "--option", o))
            for o in options]
    start = date(2026, 4, 25)
    for name, per in (("comparison", 1), ("fan", 3)):
        picture = Picture(folder, f"{who}-{name}")
        for k, option in enumerate(options):
            if picture.text(f"option_name_{k + 1}") != option:
                bad.append(f"{picture.name}: {k + 1} is not {option}")
        for row in picture.blocks["curves" if per == 1 else "fan"]:
            day = str(start + timedelta(days=int(row[0])))
            for k in range(len(options)):
                for j, column in enumerate(("readiness", "low", "high")[:per]):
                    if day in said[k]:
                        picture.same(row[1 + per * k + j], said[k][day][column],
                                     f"{day} {options[k]} {column}")
        picture.done(40)


def losses(folder):
    """What each athlete loses under the common tapers."""
    run("taper", SEASON, "--groups", "3", "--out", folder)
    rows = table("taper", SEASON, "--groups", "3")
    picture = Picture(folder, "squad-losses")
    plans = picture.values["common_count"]
    for row in picture.blocks["cells"]:
        who = picture.text(f"row_name_{row[1]}")
        option = picture.text(f"column_name_{row[0]}").split(": ")[-1]
        for said in rows:
            if (said["athlete"], said["option"], said["plans"]) == \
                    (who, option, plans):
                picture.same(row[2], said["loss"], f"{who} {option}")
    picture.done(8)


def peaks(folder, who):
    run("taper", SEASON, "--joint", "--athlete", who, "--out", folder)
    picture = Picture(folder, f"{who}-peaks")
    rows = table("taper", SEASON, "--joint", "--athlete", who)
    without = by_date(table("simulate", SEASON, "--athlete", who))
    for row in picture.blocks["days"]:
        day = day_of(row[0])
        if day in without:
            picture.same(row[1], without[day]["load"], f"load of {day}")
            picture.same(row[3], without[day]["readiness"], f"none on {day}")
    days = {day_of(r[0]): r for r in picture.blocks["days"]}
    first = days[rows[0]["start"]]  # an event of one day
    for shown, column in zip(first[4:7], ("readiness", "low", "high")):
        picture.same(shown, rows[0][column], f"event's {column}")
    picture.done(60)


def fit(folder, who, kind):
    run("fit", SEASON, "--athlete", who, "--out", folder)
    with open(f"{SEASON}/tests.csv", encoding="utf8") as file:
        said = {row["date"]: row["value"] for row in csv.DictReader(file)
                if row["athlete"] == who and row["test"] == kind}
    order = sorted(said)
    picture = Picture(folder, f"{who}-forecast")
    for row in next(iter(picture.blocks.values())):
        day = day_of(row[0])
        picture.same(row[1], said[day], f"test of {day}")
        picture.same(row[5], said[order[order.index(day) - 1]],
                     f"test before {day}")
    picture.done(10)
    picture = Picture(folder, f"{who}-fitted")
    tests_of(picture, who, kind)
    picture.done(10)
    picture = Picture(folder, f"{who}-residuals")
    rows = next(iter(picture.blocks.values()))
    for i, (row, day) in enumerate(zip(rows, order, strict=True)):
        picture.same(row[2], i + 1, "order")
        if day_of(row[0]) != day:
            bad.append(f"{picture.name}: {day_of(row[0])} drawn, {day} said")
    picture.told("It", [float(row[1]) for row in rows])
    picture.done(14)


def ratio_of(model):
    with open(f"models/{model}.csv", encoding="utf8") as file:
        return next(float(r["value"]) for r in csv.DictReader(file)
                    if r["parameter"] == "ratio")


def influence(folder):
    """k1 e^(-t/tau1) - k2 e^(-t/tau2), from the table of models."""
    run("models", "--out", folder)
    for model in table("models"):
        if model["kind"] not in ("two-component", "one-component", "graded"):
            continue
        picture = Picture(folder, f"{model['model']}-influence")
        k1, k2, tau1, tau2 = (float(model[key] or "nan")
                              for key in ("k1", "k2", "tau1", "tau2"))
        for row in picture.blocks["influence"]:
            t = float(row[0])
            value = k1 * math.exp(-t / tau1)
            if model["kind"] == "graded":  # at the usual load, from the file
                k2 = ratio_of(model["model"]) * k1
            if model["kind"] != "one-component":
                value -= k2 * math.exp(-t / tau2)
            picture.same(row[1], value, f"{t} days before")
        picture.done(100)


def review(folder):
    """Load planned and done over the weeks, forecast, range, outcome."""
    words = ("data/demo",)
    run("review", *words, "--out", folder)
    total, said = {}, {}
    for r in table("review", *words):
        for side in ("planned", "done"):
            if r["quantity"] == "load":
                key = r["athlete"], side
                total[key] = total.get(key, 0) + float(r[side])
        if not r["week"]:
            said[r["athlete"], r["quantity"]] = r["planned"] or r["done"]
    picture = Picture(folder, "review")
    for row in picture.blocks["review"]:
        name = picture.text(f"row_name_{int(float(row[0]))}")
        picture.same(row[1], total[name, "planned"], f"{name} planned")
        picture.same(row[2], total[name, "done"], f"{name} done")
        for value, key in zip(row[3:], ("forecast", "low", "high", "outcome")):
            picture.same(value, said[name, key], f"{name} {key}")
    picture.done(48)


def lessons(folder):
    """Curves, marks and landmarks of every lesson; the bars of `approach`."""
    names = [text.split()[0] for text in run("lesson", "--list").splitlines()]
    run("lesson", "all", "--out", folder)
    said = {}
    for r in table("lesson", "all"):
        said.setdefault((r["lesson"], r["series"]), []).append(r)
    for name in names:
        picture = Picture(folder, f"lesson-{name}")
        if "curves" in picture.blocks:
            curves(picture, name, said)
        else:
            bars(picture, name, said)
    if said:
        bad.append(f"lessons: not drawn: {list(said)[:3]}")


def columns_same(picture, rows, told, keys=("x", "y")):
    for row, r in zip(rows, told, strict=True):
        for shown, key in zip(row, keys, strict=True):
            picture.same(shown, r[key], f"{r['series']} {key}")


def curves(picture, name, said):
    rows = picture.blocks["curves"]
    for k in range(int(float(picture.values["curves_count"]))):
        title = picture.text(f"curve_name_{k + 1}")
        told = said.pop((name, title))
        columns_same(picture, [(r[0], r[k + 1]) for r in rows], told)
        for i, r in enumerate(told):
            if r["row"] and r["row"] != picture.text(f"row_name_{i + 1}"):
                bad.append(f"{picture.name}: row {i + 1} is not {r['row']}")
        if told[0]["x_label"] != picture.text("x_label") or \
                told[0]["y_label"] != picture.text("y_label"):
            bad.append(f"{picture.name}: labels of {title}")
    if picture.blocks["marks"]:
        columns_same(picture, picture.blocks["marks"],
                     said.pop((name, picture.text("mark_name"))),
                     ("x", "y", "error"))
    for mark in "t_n", "t_g":
        if picture.values[mark] != "NaN":
            columns_same(picture, [(picture.values[mark],)],
                         said.pop((name, mark)), ("x",))
    picture.done(40)


def bars(picture, name, said):
    days = picture.blocks["days"]
    columns_same(picture, [r[:2] for r in days], said.pop((name, "load")))
    columns_same(picture, [(r[0], r[2]) for r in days],
                 said.pop((name, "readiness")))
    columns_same(picture, picture.blocks["influence"][1:],
                 said.pop((name, "influence")))
    picture.done(300)


def main():
    who, kind = "wing-07", "Jump height (cm)"
    with tempfile.TemporaryDirectory() as folder:
        stand_in = f"{folder}/bin"
        os.mkdir(stand_in)
        with open(f"{stand_in}/gnuplot", "w", encoding="utf8") as file:
            file.write(STAND_IN)
        os.chmod(f"{stand_in}/gnuplot", 0o755)
        os.environ["PATH"] = f"{stand_in}:{os.environ['PATH']}"
        season(folder, who, kind)
        blocks_to_come(folder, who)
        taper(folder, who, kind)
        handed(folder, "back-03")
        together(folder, "keeper-01")
        comparison(folder, who)
        losses(folder)
        peaks(folder, "pivot-05")
        fit(folder, who, kind)
        influence(folder)
        review(folder)
        lessons(folder)
    print(*bad[:20], sep="\n")
    return len(bad) > 0


if __name__ == "__main__":
    sys.exit(main())
