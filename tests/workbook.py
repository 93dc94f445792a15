#!/usr/bin/python3
"""Seasons as workbooks, written by openpyxl: the same answers as from CSV, and
what is refused.

    workbook.py PROGRAM FOLDER

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import os
import subprocess
import sys
import time
import zipfile

import openpyxl

program, folder = sys.argv[1:3]
DATES = ("date", "start", "born")


def run(*words):
    done = subprocess.run([program, *words], capture_output=True, text=True,
                          check=False)
    return done.returncode, done.stdout, done.stderr


def value(heading, text):
    """As a spreadsheet has it: dates as dates, numbers as numbers."""
    try:
        if heading in DATES:
            return datetime.date.fromisoformat(text) if text else None
        return float(text) if text else None
    except ValueError:
        return text


def save(rows, name, sheet=None):
    book = openpyxl.Workbook()
    if sheet:
        book.active.title = sheet
    for row in rows:
        book.active.append(row)
    book.save(f"{folder}/{name}")
    return book


def season():
    for name in os.listdir("data/demo"):
        if not name.endswith(".csv"):
            continue
        with open(f"data/demo/{name}", encoding="utf8") as file:
            head, *rows = csv.reader(file)
        save([head] + [[value(h, x) for h, x in zip(head, row)]
                       for row in rows], name[:-4] + ".xlsx")


season()
for command in ("taper --max-length 7", "fit", "plan", "simulate"):
    command, *words = command.split()
    words += "--csv", "--quiet"
    print(command, run(command, folder, *words) ==
          run(command, "data/demo", *words))
one = f"{folder}/sessions.xlsx"
print("single", run("load", one, "--csv") ==
      run("load", "data/demo/sessions.csv", "--csv"))
print("sheet", run("load", one + "#sheet", "--csv") == run("load", one, "--csv"))


def refused(name, part):
    code, out, err = run("check", f"{folder}/{name}")
    said = " ".join((out + err).split())
    print(name, code, part in said or said[-300:])


refused("sessions.xlsx#Other", "has no sheet 'Other', expected 'Sheet'")
book = save([["date", "load"], [datetime.date(2026, 1, 5), 100]], "merged.xlsx")
book.active.merge_cells("A1:B1")
book.save(f"{folder}/merged.xlsx")
refused("merged.xlsx", "merged")
save([["date", "load"], [datetime.date(2026, 1, 5), "=1+1"]], "formula.xlsx")
refused("formula.xlsx", "formula")
save([["date", "load"], [datetime.date(2026, 1, 5), 100], ["soon", 90]],
     "slip.xlsx")
refused("slip.xlsx", "slip.xlsx:3: date: 'soon', expected")
with open(f"{folder}/none.xlsx", "wb") as file:
    file.write(b"PK\x03\x04 but no archive")
refused("none.xlsx", "none.xlsx")
with open(f"{folder}/old.xlsx", "wb") as file:
    file.write(bytes.fromhex("d0cf11e0a1b11ae1") + bytes(512))
refused("old.xlsx", "expected")
# a sheet that unpacks to 600 MB
with zipfile.ZipFile(f"{folder}/sessions.xlsx") as good, \
        zipfile.ZipFile(f"{folder}/bomb.xlsx", "w", zipfile.ZIP_DEFLATED,
                        compresslevel=1) as bomb:
    for part in good.namelist():
        if part != "xl/worksheets/sheet1.xml":
            bomb.writestr(part, good.read(part))
    with bomb.open("xl/worksheets/sheet1.xml", "w") as sheet:
        for _ in range(600):
            sheet.write(b" " * (1 << 20))
start = time.monotonic()
refused("bomb.xlsx", "bomb.xlsx")
print("soon", time.monotonic() - start < 10)
