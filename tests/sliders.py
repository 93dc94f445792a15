"""The lessons' page with sliders: whole, small, nothing from outside; and its
arithmetic against the program's.

    sliders.py file PAGE         what can be seen without a browser
    sliders.py ask PAGE FRAME    writes FRAME, a page that moves PAGE's settings
                                 and tells what it shows
    sliders.py check PROGRAM TOLD
                                 TOLD: what a browser printed of FRAME

Each of the seeded settings is also a season for `simulate`: whole weeks of a
log, the usual week from then on, the weeks of more load and the taper as an
option, the model as a file. Fitness, fatigue and readiness of every day agree
to nine digits.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import base64
import csv
import hashlib
import html
import io
import json
import os
import random
import re
import subprocess
import sys
import tempfile
from datetime import date, timedelta

DAYS = 82
PATTERNS = {"hard and easy days": [4, 6, 3, 6, 2, 5, 0],
            "all days alike": [1] * 7,
            "three hard days": [8, 0, 8, 0, 8, 2, 0],
            "match on Saturday": [3, 5, 6, 4, 2, 8, 0]}
REFUSED = [("tau1=90", "tau1 from 15 to 80"), ("cut=", "cut from 0 to 100"),
           ("cut=x", "cut from 0 to 100"), ("length=-1", "from 0 to 28"),
           ("length=10.5", "whole number"), ("weeks=1e9", "from 0 to 4"),
           ("tau1=20; tau2=20", "tau1 at least 1.3 times tau2"),
           ("kind=three", "expected name=value"),
           ("shape=__proto__", "expected name=value"),
           ("pattern=toString", "expected name=value"),
           ("nonsense", "expected name=value"),
           ("ratio=NaN", "ratio from 0.5 to 4"),
           ("<b>=1", "expected name=value")]


def settings():
    """Odd-looking ones of each kind and shape."""
    draw, made = random.Random(2385), []
    for number in range(24):
        tau1 = draw.randint(20, 80)
        made.append({
            "kind": ("one", "two", "growing")[number % 3],
            "tau1": tau1,
            "tau2": draw.randint(4, min(60, int(tau1 / 1.3 * 2))) / 2,
            "ratio": round(draw.uniform(.5, 4), 2),
            "growth": draw.randint(0, 100),
            "tau3": round(draw.uniform(.5, 8), 1),
            "length": draw.randint(0, 28), "cut": draw.randint(0, 20) * 5,
            "weeks": draw.randint(0, 3), "more": draw.randint(1, 10) * 5,
            "shape": ("step", "linear", "exponential")[number // 3 % 3],
            "pattern": list(PATTERNS)[number % 4]})
    return made


def line(setting):
    return "; ".join(f"{k}={v}" for k, v in setting.items())


def file(page):
    text = open(page, encoding="utf8").read()
    assert len(text.encode()) < 200_000, len(text)
    assert text.endswith("</html>\n") and "@" not in \
        re.sub(r"@media", "", text), "a mark is left"
    assert not re.search(r'@import|url\(|src=|<link|href=|fetch\(|<form', text)
    script = re.findall("<script>(.*?)</script>", text, re.S)
    style = re.findall("<style>(.*?)</style>", text, re.S)
    assert len(script) == len(style) == 1
    policy = html.unescape(re.search(
        'Content-Security-Policy" content="([^"]*)"', text)[1])
    hashes = ["'sha256-" + base64.b64encode(hashlib.sha256(
        part[0].encode()).digest()).decode() + "'" for part in (style, script)]
    assert policy == ("default-src 'none'; base-uri 'none'; form-action "
                      f"'none'; style-src {hashes[0]}; script-src "
                      f"{hashes[1]}"), policy
    assert not re.search(r"\bstyle=|\bon[a-z]+=", text), "the policy bars it"
    presets = json.loads(re.search(
        'id="presets">(.*?)</script>', text, re.S)[1])
    classic = next(p for p in presets if p["name"] == "classic")
    assert classic["set"] == {"kind": "two", "tau1": 45, "tau2": 15,
                              "ratio": 2}, classic
    literature = next(p for p in presets if p["name"] == "literature")
    assert literature["set"] == {
        "kind": "growing", "tau1": 39, "tau2": 12, "ratio": 2.1, "growth": 50,
        "tau3": 2.3}, literature
    print("good")


FRAME = """<!DOCTYPE html><title>sliders</title>
<iframe id="page" src="%s" width="360"
height="700"></iframe><iframe id="odd" src="%s#%%"></iframe>
<iframe id="named" src="%s#kind=one;%%20cut=35"></iframe>
<pre id="told"></pre><script>onload = () => {
  const page = id => document.getElementById(id).contentDocument;
  const main = page("page"), told = [], $ = id => main.getElementById(id);
  const enter = text => { $("state").value = text;
    $("state").dispatchEvent(new Event("change")); };
  for (const text of %s) {
    enter(text);
    told.push([...$("days").rows].slice(1).map(r => r.dataset.exact));
  }
  const refused = %s.map(text => { enter(text);
    return $("refused").textContent; });
  const cases = told.length;
  enter("kind=two"); $("freeze").click(); enter("kind=two; cut=75");
  const frozen = $("says").textContent;
  const tasks = [...$("tasks").children].map(box => {
    const look = box.querySelector("button"), says = box.lastChild;
    look.click();
    const first = says.textContent;
    box.querySelector("input").checked = true;
    look.click();
    return [first, says.textContent, $("state").value];
  });
  $("preset").selectedIndex = 1;
  $("preset").dispatchEvent(new Event("change"));
  document.getElementById("told").textContent = JSON.stringify({cases: told,
    refused, frozen, tasks, preset: $("preset").selectedOptions[0].text,
    state: $("state").value, odd: page("odd").getElementById("refused")
      .textContent, oddState: page("odd").getElementById("state").value,
    named: page("named").getElementById("state").value,
    namedRefused: page("named").getElementById("refused").textContent,
    width: main.documentElement.scrollWidth,
    asked: document.getElementById("page").contentWindow.performance
      .getEntriesByType("resource").length});
}</script>
"""


def ask(page, frame):
    name = os.path.relpath(page, os.path.dirname(frame))
    with open(frame, "w", encoding="utf8") as to:
        to.write(FRAME % (name, name, name, json.dumps([line(s) for s in
                                                        settings()]),
                          json.dumps([text for text, _ in REFUSED])))


def option_of(s):
    parts = []
    if s["weeks"]:
        parts.append(f"{7 * s['weeks']}d+{s['more']}")
    if s["length"]:
        between = {"step": "-", "linear": "-0..", "exponential": "-0~"}
        if s["length"] == 1:
            between = dict.fromkeys(between, "-")
        parts.append(f"{s['length']}d{between[s['shape']]}{s['cut']}")
    return ",".join(parts) or "none"


def season(folder, s):
    week = PATTERNS[s["pattern"]]
    start = date(2026, 1, 5)  # a Monday
    logged = (DAYS - s["length"] - 7 * s["weeks"] - 1) // 7 * 7  # then today
    with open(f"{folder}/sessions.csv", "w", encoding="utf8") as to:
        to.write("date,load\n")
        for d in range(logged):
            to.write(f"{start + timedelta(days=d)},{week[d % 7]}\n")
    with open(f"{folder}/week.csv", "w", encoding="utf8") as to:
        to.write("weekday,session,load\n")
        for name, load in zip("mon tue wed thu fri sat sun".split(), week):
            to.write(f"{name},Training,{load}\n")
    with open(f"{folder}/events.csv", "w", encoding="utf8") as to:
        to.write(f"event,start,days\nCup,{start + timedelta(days=DAYS)},1\n")
    k1 = 7 / sum(week)
    rows = {"kind": "graded", "p0": 0, "k1": k1, "tau1": s["tau1"],
            "tau2": s["tau2"], "ratio": s["ratio"],
            "growth": s["growth"] / 100, "tau3": s["tau3"]}
    if s["kind"] == "two":
        rows = {"kind": "two-component", "p0": 0, "k1": k1,
                "k2": k1 * s["ratio"], "tau1": s["tau1"], "tau2": s["tau2"]}
    if s["kind"] == "one":
        rows = {"kind": "one-component", "p0": 0, "k1": k1, "tau1": s["tau1"]}
    with open(f"{folder}/model.csv", "w", encoding="utf8") as to:
        to.write("parameter,value,spread,unit,source\n")
        for name, value in rows.items():
            value = value if name == "kind" else repr(float(value))
            to.write(f"{name},{value},,,\n")
    return start + timedelta(days=logged), k1


def simulated(program, s):
    with tempfile.TemporaryDirectory() as folder:
        today, k1 = season(folder, s)
        done = subprocess.run(
            [program, "simulate", folder, "--model", f"{folder}/model.csv",
             "--today", str(today), "--option", option_of(s), "--csv",
             "--quiet"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, (s, done.stderr)
    rows = list(csv.DictReader(io.StringIO(done.stdout)))[:DAYS + 1]
    return [[k1 * float(r["load"]), float(r["fitness"]),
             float(r["fatigue"] or 0), float(r["readiness"])] for r in rows]


def close(shown, said, scale):
    return abs(shown - said) <= 1e-9 * max(abs(said), scale)


def compare(program, s, told):
    said = simulated(program, s)
    assert len(told) == len(said) == DAYS + 1, (s, len(told), len(said))
    count = 0
    for day, (shown, wanted) in enumerate(zip(told, said)):
        numbers = [float(x) for x in shown.split(" ") if x]
        if day == DAYS:  # the event's own load is no part of the page
            wanted = wanted[1:]
        if s["kind"] == "one":
            numbers[-2] = 0
        assert len(numbers) == len(wanted), (s, day, shown)
        for a, b in zip(numbers, wanted):
            assert close(a, b, said[day][1]), (line(s), day, shown, wanted)
            count += 1
    return count


def check(program, out):
    text = re.search('<pre id="told">(.*?)</pre>', open(
        out, encoding="utf8").read(), re.S)[1]
    told = json.loads(html.unescape(text))
    count = sum(compare(program, s, rows)
                for s, rows in zip(settings(), told["cases"], strict=True))
    for (text, wanted), said in zip(REFUSED, told["refused"], strict=True):
        assert wanted in said, (text, said)
    assert "expected name=value" in told["odd"], told["odd"]
    assert "cut=50" in told["oddState"]
    assert "cut=35" in told["named"] and not told["namedRefused"]
    assert "Against the frozen curve: +" in told["frozen"], told["frozen"]
    assert len(told["tasks"]) == 5
    for first, then, state in told["tasks"]:
        assert first.startswith("Predict first"), first
        assert re.match("So it is|The model says", then), then
        assert state.startswith("kind="), state
    assert told["preset"] == "classic" and "tau1=45" in told["state"], told
    assert told["asked"] == 0 and told["width"] <= 360, told["width"]
    print(f"sliders: {len(told['cases'])} settings, {count} figures as "
          f"simulate has them, {len(REFUSED)} lines refused, five tasks")


if __name__ == "__main__":
    {"file": file, "ask": ask, "check": check}[sys.argv[1]](*sys.argv[2:])
