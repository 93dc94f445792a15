#!/usr/bin/python3
"""Does a test notice slips that nobody picked?

mutants_random.py BUILD --random=N [--seed=S] [--within=SECONDS]: draws N slips
over all of src/*/*.c (an operator exchanged, a constant moved by one, a condition
negated, a statement left out; first the kind, then the place), and runs the files
of tests that run the line, the quickest first, until one fails or those that would
take the slip's processor time beyond SECONDS are left. Each file of tests runs
first without any slip, and must pass: the time it takes says how long is too long.
What asks for time on the clock (TIMED) is left out, as a slow machine would kill
anything there. Which tests run which line says BUILD/coverage/reached.json, which
`make coverage` of the same source leaves; without it those of the file's name and
floor come first, then those of whole programs.

Prints the seed and a line a slip; survivors are for a reader to judge: does the
slip change what anybody sees? Exit code 0 whatever survives, as some slips change
nothing. Not drawn: slips that compile to the same code, in comments, texts and
assertions, and freeing left out, which sanitizers and valgrind look for.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import random
import re
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import mutants

EXCHANGED = {"<": ["<=", ">="], "<=": ["<", ">"], ">": [">=", "<="],
             ">=": [">", "<"], "==": ["!="], "!=": ["=="], "&&": ["||"],
             "||": ["&&"], "+": ["-"], "-": ["+"], "*": ["/"], "/": ["*"],
             "+=": ["-="], "-=": ["+="]}
OPERATOR = re.compile(r"(?<= )(<=|>=|==|!=|&&|\|\||\+=|-=|[<>+*/-])(?= |\n)")
CONSTANT = re.compile(r"(?<![\w.\"'])(\d+)(\.\d+)?(?![\w.\"'])|\b(true|false)\b")
STATEMENT = re.compile(
    r"^ +(?:[a-z_]\w*\([^;{}]*\)|[\w\[\].>*()-]+(?:->[\w\[\].]+)* [-+*/|&]?= "
    r"[^;{}]*|[\w\[\].>-]+(?:\+\+|--));$", re.M)
FREEING = re.compile(r"^ +(?:\w*free|fclose)\(")
MASKED = re.compile(r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])+'|"
                    r"^#(?:[^\n]*\\\n)*[^\n]*$|\bassert\([^;]*;", re.S | re.M)


def masked(text):
    """The text with comments, texts, directives and assertions blanked."""
    return MASKED.sub(lambda m: re.sub(r"[^\n]", "\0", m[0]), text)


def operators(code):
    for m in OPERATOR.finditer(code):
        for other in EXCHANGED[m[1]]:
            yield m.start(1), m.end(1), other


def constants(code):
    for m in CONSTANT.finditer(code):
        if m[3]:
            yield m.start(), m.end(), "false" if m[3] == "true" else "true"
        else:
            for step in (-1, 1):
                if int(m[1]) + step >= 0:
                    yield m.start(1), m.end(1), str(int(m[1]) + step)


def conditions(code):
    for m in re.finditer(r"\bif \(", code):
        depth, at = 1, m.end()
        while depth:
            depth += {"(": 1, ")": -1}.get(code[at], 0)
            at += 1
        yield m.end() - 1, m.end(), "(!("
        yield m.end() - 1, at, "(1)"


def statements(code):
    for m in STATEMENT.finditer(code):
        if not FREEING.match(m[0]):
            yield m.start(), m.end(), ";"


# Of the tests of whole programs those that take longest, where nothing better
# is known.
SLOW = ("program_squad", "program_properties", "program_experiment")
# Those that wait for what comes within so many seconds.
TIMED = ("program_terminal",)
KINDS = (operators, constants, conditions, statements)


def changed(text, slip):
    start, end, other = slip
    if other == "(!(":  # the condition ends where its bracket does
        depth, at = 1, end
        while depth:
            depth += {"(": 1, ")": -1}.get(masked(text)[at], 0)
            at += 1
        return f"{text[:start]}(!{text[start:at]}){text[at:]}"
    gone = text[start:end].count("\n")  # lines keep their numbers
    return text[:start] + other + "\n" * gone + text[end:]


def all_slips():
    """kind -> [(file, slip)]"""
    slips = {kind: [] for kind in KINDS}
    for path in sorted(Path("src").glob("*/*.c")):
        code = masked(path.read_text())
        for kind in KINDS:
            slips[kind] += [(str(path), slip) for slip in kind(code)]
    return slips


def told(text, new):
    """The first lines that differ, before and after."""
    pairs = zip(text.splitlines(), new.splitlines())
    before, after = next((a, b) for a, b in pairs if a != b)
    return f"{before.strip()}  ->  {after.strip()}"


class Reached:
    """Which files of tests run a line, and how long they take [s of a processor]:
    as `make coverage` says, and once one has run without any slip, as it took."""

    def __init__(self, build):
        path = Path(build) / "coverage" / "reached.json"
        self.build, self.most = build, {}
        self.lines, self.seconds = None, {}
        self.names = subprocess.run(
            [f"{build}/run_tests", "--list"], check=True, capture_output=True,
            text=True).stdout.split()
        if path.exists():
            data = json.loads(path.read_text())
            self.lines, self.seconds = data["reached"], data["seconds"]

    def by(self, file, first, last):
        """Those that run one of the lines, or for lines without code (a table)
        any of the file's; the quickest first."""
        if self.lines is None:
            return self.guess(file)
        rows = self.lines.get(file, {})
        code = [rows[str(n)] for n in range(first, last + 1) if str(n) in rows]
        names = {name for row in code or rows.values() for name in row}
        return sorted(names.difference(TIMED), key=self.seconds.get)

    def longest(self, name):
        """After how many seconds a file of tests never ends; it must pass."""
        if name not in self.most:
            began, used = time.time(), processor_time()
            if mutants.run_tests([f"{self.build}/run_tests", name],
                                 f"{self.build}/peakward", None) != 0:
                sys.exit(f"mutants: {name} fails without any slip")
            self.seconds[name] = processor_time() - used
            self.most[name] = 10 + 10 * (time.time() - began)
        return self.most[name]

    def guess(self, file):
        floor, stem = Path(file).parent.name, Path(file).stem
        near = [n for n in self.names if n == f"{floor}_{stem}"]
        near += [n for n in self.names if n.startswith(floor + "_")]
        near += [n for n in self.names if n.startswith(("answers", "lessons"))]
        whole = [n for n in self.names if n.startswith("program")
                 and n not in TIMED]
        near += [n for n in whole if n not in SLOW] + list(SLOW)
        return list(dict.fromkeys(near))


def fate(build, folder, file, slip, reached, within):
    text = Path(file).read_text()
    new = changed(text, slip)
    first = text[:slip[0]].count("\n") + 1
    last = text[:slip[1]].count("\n") + 1
    names = reached.by(file, first, last)
    mutant = mutants.Mutant(build, folder, file, new)
    used, ran = 0, 0
    try:
        if mutant.trouble:
            return mutant.trouble
        if not names:
            return "SURVIVED, none of these tests runs the line"
        for name in names:
            longest = reached.longest(name)
            if ran and used + reached.seconds[name] > within:
                return f"SURVIVED {ran} of {len(names)} files of tests"
            began = processor_time()
            if mutant.noticed(name, longest):
                return f"killed by {name}"
            used += processor_time() - began
            ran += 1
        return f"SURVIVED all {len(names)} files of tests"
    finally:
        mutant.done()


def processor_time():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def option(name, default):
    for word in sys.argv:
        if word.startswith(f"--{name}="):
            return int(word.split("=", 1)[1])
    return default


def main():
    build, wanted = sys.argv[1], option("random", 60)
    seed = option("seed", int(time.time()) % 100000)
    within = option("within", 60)
    drawn, slips, reached = random.Random(seed), all_slips(), Reached(build)
    print(f"mutants: {wanted} of {sum(map(len, slips.values()))} slips, "
          f"--seed={seed}", flush=True)
    ends = []
    with tempfile.TemporaryDirectory() as folder:
        while len(ends) < wanted:
            file, slip = drawn.choice(slips[drawn.choice(KINDS)])
            end = fate(build, folder, file, slip, reached, within)
            if end == "does not link":
                sys.exit(f"mutants: {file}: {end}: are there objects of all "
                         "sources? run `make tests` first")
            if not end.startswith(("killed", "SURVIVED")):
                continue  # no slip
            ends.append(end)
            text = Path(file).read_text()
            line = text[:slip[0]].count("\n") + 1
            print(f"{end}: {file}:{line}: {told(text, changed(text, slip))}",
                  flush=True)
    killed = sum(end.startswith("killed") for end in ends)
    print(f"mutants: {killed} of {wanted} killed, --seed={seed}")


if __name__ == "__main__":
    main()
