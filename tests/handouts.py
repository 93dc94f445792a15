"""What athletes carry home, as plan writes it: each reads what is hers alone.

    handouts.py PROGRAM FOLDER

A squad of three and two events are written into FOLDER; the calendars are read
by Debian's icalendar, a parser of RFC 5545. Prints one line a question.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import datetime
import io
import os
import re
import subprocess
import sys

import icalendar

program, folder = sys.argv[1:3]
season, out = os.path.join(folder, "season"), os.path.join(folder, "out")
first = datetime.date(2026, 1, 5)


def write(name, text):
    with open(os.path.join(season, name), "w", encoding="utf-8") as to:
        to.write(text)


def run(*words):
    done = subprocess.run([program, *words], capture_output=True, text=True,
                          check=True)
    return done.stdout, done.stderr


def read(name):
    with open(os.path.join(out, name), encoding="utf-8") as file:
        return file.read()


def entries(name):
    """(start, minutes) of the entries with a title, by title."""
    found = {}
    for e in icalendar.Calendar.from_ical(read(name)).walk("VEVENT"):
        start = e.decoded("DTSTART")
        minutes = None
        if isinstance(start, datetime.datetime) and "DTEND" in e:
            minutes = (e.decoded("DTEND") - start).seconds // 60
        found.setdefault(str(e["SUMMARY"]), []).append(
            (start.isoformat(), minutes))
    return found


def uids(name):
    return [str(e["UID"])
            for e in icalendar.Calendar.from_ical(read(name)).walk("VEVENT")]


os.mkdir(season)
names = ["J\u00f6rg", "J_rg", "ben"]
rows = ["date,athlete,session,kind,minutes,rpe"]
for day in range(70):
    for name in names:
        if day % 7 < 5:
            rows.append(f"{first + datetime.timedelta(day)},{name},Hall,skill,"
                        f"{60 + day % 3 * 10},5")
write("sessions.csv", "\n".join(rows) + "\n")
write("athletes.csv", "athlete,minor\nBen,yes\nJ_rg,yes\n")
write("events.csv", "event,start,days,sessions_per_day,start_time,"
      "session_minutes\nCup,2026-03-28,1,,15:00,60\n"
      "Trial,2026-04-10,2,2,09:30,75\n")
write("week.csv", "weekday,session,kind,minutes,rpe\nmon,Hall,skill,60,5\n"
      "thu,Hall,skill,60,5\nthu,Ball,skill,30,4\n")

_, said = run("plan", season, "--event", "Trial", "--out", out)
plan, sheet = read("J_rg-plan-Trial.txt"), read("J_rg-plan-Trial-event-week.txt")
own = entries("J_rg-plan-Trial.ics")
# Every session of an event, at the hours of that event.
print("cup", own["Cup"])
print("trial", own["Trial"])
print("unique", len(uids("J_rg-plan-Trial.ics")) == len(set(uids("J_rg-plan-Trial.ics"))))
# Ids count within a day, so that entries of a later plan take their place.
numbers = {}
for uid in uids("J_rg-plan-Trial.ics"):
    number = uid[11:].split("-")[0]
    if number.isdigit():  # those of an event's own sessions are named otherwise
        numbers.setdefault(uid[:10], []).append(int(number))
print("numbered", len(numbers) > 4 and max(map(len, numbers.values())) == 2,
      all(n == list(range(1, len(n) + 1)) for n in numbers.values()))
# Of what is dear to miss the entry says so, and of nothing else.
dear = {row["date"] for row in csv.DictReader(io.StringIO(run(
            "plan", season, "--event", "Trial", "--athlete", "J_rg", "--csv")[0]))
        if row["cost_if_missed"] and float(row["cost_if_missed"]) >= .03}
warned = {str(e.decoded("DTSTART"))[:10] for e in icalendar.Calendar.from_ical(
              read("J_rg-plan-Trial.ics")).walk("VEVENT")
          if "Do not miss it" in str(e.get("DESCRIPTION"))}
print("dear", len(dear) > 0, warned == dear)
# The hour that nobody gave is said to be assumed.
print("assumed", "Assumed: events.csv gives only the first start_time" in sheet)
# Names that come out alike have files of their own, whoever is in the run.
before = read("J_rg-plan-Trial.txt"), read("J_rg~2-plan-Trial.txt")
run("plan", season, "--event", "Trial", "--athlete", names[1], "--out", out)
print("stable", before == (read("J_rg-plan-Trial.txt"), read("J_rg~2-plan-Trial.txt")))
# Nobody reads of another minor; the minor reads of herself, and he whose row
# is written otherwise of that.
sheets = {text.split(":")[0]: text for text in before}
print("minors", "a minor" in sheets["J_rg"], "minor" in sheets["J\u00f6rg"],
      "minor" in read("ben-plan-Trial.txt"))
# Whose row matches nobody is told in every command.
print("stranger", "athletes.csv: athlete: warning: 'Ben' has no sessions, but "
      "'ben' has" in said)
# What is said of the event stands on the paper.
print("inside", "'Cup' lies inside" in " ".join(plan.split()))
# No legend of signs that do not occur.
print("legend", "In a week's total kg" in plan)
# Bars of the page: what is planned of each day, and around it what is usual.
of_day = {}
for row in csv.DictReader(io.StringIO(run("plan", season, "--event", "Trial",
                                          "--athlete", "J_rg", "--csv")[0])):
    if not row["exercise"] and row["kind"] != "event":
        pair = of_day.setdefault(row["date"], [0, 0])
        pair[0] += float(row["load"])
        pair[1] += float(row["usual_load"])
page = run("report", season, "--event", "Trial", "--athlete", "J_rg")[0]
drawing = re.search(r'aria-label="Bars of the days.*?</svg>', page, re.S)[0]
bars = [[float(tall) for tall in re.findall(f'height="([0-9.]+)" fill="{fill}"',
                                            drawing) if float(tall)]
        for fill in ("#2f5d8a", "none")]
loads = [[pair[k] for _, pair in sorted(of_day.items()) if pair[k]]
         for k in (0, 1)]
tallest, most = max(map(max, bars)), max(map(max, loads))
print("bars", [len(b) for b in bars] == [len(b) for b in loads], all(
    abs(tall / tallest - load / most) < .002
    for b, l in zip(bars, loads) for tall, load in zip(b, l)),
    loads[0] != loads[1])
# The page's table of lengths and cuts: what compare says of each.
rows = re.findall(r"<tr\b[^>]*><th[^>]*>(\d+) days</th>(.*?)</tr>",
                  page[page.index("<caption dir=\"auto\">Expected gain in % of the "
                             "largest gain possible"):], re.S)
cells = {(days, cut): (float(gain), int(helps)) for days, row in rows
         for cut, gain, helps in re.findall(
             r'data-title="(\d+) % cut"[^>]*>([-+][0-9.]+) % \((\d+)\)', row)}
asked = sorted({days for days, _ in cells}, key=int)[:2]
words = [w for days in asked for cut in (25, 50, 75)
         for w in ("--option", f"{days}d-{cut}")]
said = {r["option"]: r for r in csv.DictReader(io.StringIO(run(
    "compare", season, "--event", "Trial", "--athlete", "J_rg", "--csv",
    *words)[0]))}
print("what if", len(asked), all(
    abs(cells[d, str(c)][0] - 100 * float(r["share"])) < .051 and
    abs(cells[d, str(c)][1] - 100 * float(r["beats_none"])) <= .5001
    for d in asked for c in (25, 50, 75) for r in [said[f"{d}d-{c}"]]))
