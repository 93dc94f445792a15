#!/usr/bin/python3
"""Workbooks of --format xlsx, opened by openpyxl: the same values as --csv,
dates as dates, numbers as numbers, texts never formulas.

    sheets.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import io
import os
import resource
import subprocess
import sys
import zipfile

import openpyxl

program, folder = sys.argv[1:3]
season = folder + "/season"
NAMES = ["=1+1", "@SUM(A1)", "07", "1.5", "Ä/B:[C]*?", "ä/b:[c]*?", "History",
         "'quoted'", "a name that is longer than a sheet's name may be, one",
         "a name that is longer than a sheet's name may be, two", "🏐" * 20,
         "https://example.org"]
WORDS = ("athlete", "event", "option", "session", "exercise", "block", "unit")


def run(words, limit=None, **more):
    return subprocess.run(
        [program, *words.split()], capture_output=True, text=True, check=False,
        env=dict(os.environ, SOURCE_DATE_EPOCH="1700000000"), preexec_fn=limit,
        **more)


def make_season():
    os.mkdir(season)
    first = datetime.date(2026, 1, 5)
    with open(season + "/sessions.csv", "w", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(("date", "athlete", "session", "minutes", "rpe"))
        for name in NAMES:
            for day in range(42):
                rows.writerow((first + datetime.timedelta(day), name,
                               "=A1" if day % 7 else "Gym, long", 60 + day % 5,
                               5.5))
    with open(season + "/athletes.csv", "w", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(("athlete",))
        for name in sorted(NAMES, key=str.encode):
            rows.writerow((name,))
    with open(season + "/events.csv", "w", encoding="utf-8") as file:
        file.write("event,start\n=HYPERLINK(1),2026-03-07\n")


def wanted(heading, text):
    """The value of a cell of the CSV."""
    if text == "":
        return None
    if heading in WORDS:
        return text[1:] if text[:2] in ("'=", "'@", "'+", "'-") else text
    try:
        return float(text)
    except ValueError:
        pass
    try:
        return datetime.datetime.fromisoformat(text)
    except ValueError:
        return text


def same(cell, value):
    if isinstance(value, float):
        return (cell.data_type == "n" and not cell.is_date
                and abs(cell.value - value) <= 1e-11 * abs(value))
    if isinstance(value, datetime.datetime):
        return cell.is_date and cell.value == value
    return cell.value == value and (value is None or cell.data_type == "s")


def compare(words, sheets):
    """Rows of the sheets against those of the CSV, in their order."""
    done = run(words + " --csv")
    rows = list(csv.DictReader(io.StringIO(done.stdout)))
    book = openpyxl.load_workbook(named(words))
    cells = []
    for sheet in book.worksheets[-sheets:]:
        heads = [cell.value for cell in sheet[1]]
        assert sheet.freeze_panes == "A2", sheet.freeze_panes
        assert sheet.auto_filter.ref.startswith("A1:"), sheet.auto_filter.ref
        cells += [dict(zip(heads, line)) for line in sheet.iter_rows(min_row=2)]
    wrong = [(head, row[head], line[head].value)
             for row, line in zip(rows, cells) for head in row
             if not same(line[head], wanted(head, row[head]))]
    return len(rows) > 0 and len(rows) == len(cells) and not wrong


def named(words):
    """Path of the workbook of a command."""
    name = words.split()[0]
    return f"{folder}/out/{name}{'-sheets' * (name == 'plan')}.xlsx"


def squad_first(words):
    book = openpyxl.load_workbook(named(words))
    return book.worksheets[0].title, book.worksheets[0].max_row - 1


def full_disk(most):
    """No more than so many bytes fit into a file: the old workbook stays, and
    nothing else."""
    with open(folder + "/out/load.xlsx", "rb") as file:
        before = file.read()
    names = sorted(os.listdir(folder + "/out"))
    done = run(f"load --ahead {season} --format xlsx --out {folder}/out",
               lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most)))
    with open(folder + "/out/load.xlsx", "rb") as file:
        same_file = before == file.read()
    return (done.returncode == 3 and "File too large" in done.stderr or
            "cannot be written" in done.stderr) and same_file and \
        names == sorted(os.listdir(folder + "/out"))


make_season()
for words in ("load", "load --weekly", "load --ahead", "compare", "plan",
              "taper --max-length 3", "report", "review"):
    made = run(f"{words} {season} --format xlsx --out {folder}/out")
    assert made.returncode == 0, made.stderr
    name = words.split()[0]
    assert made.stdout == f"{named(words)}\n", made.stdout
    if name not in ("report", "review"):
        print(words, compare(f"{words} {season}", len(NAMES)))
print("squad", squad_first("plan"), squad_first("taper"), squad_first("load"))
plan, report = (openpyxl.load_workbook(named(name))
                for name in ("plan", "report"))
by_session = [[c.value for c in row] for row in plan["By session"]]
print("session", by_session[0][:4], sorted(r[0] for r in by_session[1:]) ==
      [r[0] for r in by_session[1:]])
print("report", plan.sheetnames == report.sheetnames)
print("names", plan.sheetnames[2:])
archive = zipfile.ZipFile(named("plan"))
sheets = [archive.read(n).decode() for n in archive.namelist() if "sheet" in n]
print("formulas", sum("<f>" in text or "hyperlink" in text for text in sheets))
print("date", b"2023-11-14T22:13:20Z" in archive.read("docProps/core.xml"),
      {i.date_time for i in archive.infolist()})
first = open(named("plan"), "rb").read()
run(f"plan {season} --format xlsx --out {folder}/out")
print("again", first == open(named("plan"), "rb").read())
size = os.path.getsize(folder + "/out/load.xlsx")
print("full", {full_disk(most) for most in range(500, size, size // 15)})


def in_commas(words):
    """The rows with decimal commas, against the plain ones."""
    plain, comma = (list(csv.reader(io.StringIO(run(words + more).stdout),
                                    delimiter=mark))
                    for more, mark in ((" --csv", ","),
                                       (" --csv --decimal comma", ";")))
    numbers = 0
    for row, other in zip(plain, comma, strict=True):
        for head, a, b in zip(plain[0], row, other, strict=True):
            number = "." in a and head not in WORDS and a != b
            numbers += number
            assert b == (a.replace(".", ",") if number else a), (head, a, b)
            assert not number or float(a) == float(b.replace(",", "."))
    return numbers > 0


for words in ("load", "load --weekly", "simulate", "taper --max-length 3",
              "taper --groups 2 --max-length 3 --model literature", "compare",
              "plan", "review"):
    assert in_commas(f"{words} {season}"), words
print("commas", in_commas("models"),
      in_commas("experiment --athletes 2"))
again = folder + "/again"
os.mkdir(again)
with open(again + "/athletes.csv", "w", encoding="utf-8") as file:
    file.write("athlete\nÄ/B:[C]*?\nä/b:[c]*?\n")
with open(again + "/sessions.csv", "w", encoding="utf-8") as file:
    file.write(run(f"load {season} --csv --decimal comma").stdout)
one, other = (sorted(
    (name.lstrip("'"), *rest) for name, *rest in csv.reader(io.StringIO(
        run(f"load {place} --csv").stdout))) for place in (season, again))
print("read again", len(one) > 500 and one == other)
