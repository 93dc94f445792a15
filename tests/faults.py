#!/usr/bin/python3
"""What the program does when the system fails: memory runs out, a disk is full,
files cannot be read or change, gnuplot fails or hangs, a signal comes.

    faults.py BUILD [--all]

However it goes wrong, the program ends with exit code 3 and a message, every
file in --out is whole (the new one or the one that stood there), and nothing is
left in the folder for temporary files. Allocations and file operations fail by
tests/faults/shim.c: without --all at one of each sort (a place in the program,
by whom it was called), as many as time allows; with --all at every one.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import errno
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor

BUILD = os.path.abspath(sys.argv[1])
ALL = "--all" in sys.argv
PROGRAM = BUILD + "/peakward"
SHIM = BUILD + "/tests/faults/shim.so"
SEED = 20260329
SAMPLE = 12  # of each command and sort of fault, unless --all
WORKERS = 2

# @ is the season, % the folder to write into.
COMMANDS = [
    "check @", "load @ --weekly", "simulate @ --out %", "fit @ --out %",
    "fit @ --next-test", "taper @ --out % --csv", "taper @ --joint",
    "taper @ --min-week-load 60 --aim lowest",
    "taper @ --model busso-2003 --min-week-load 60 --athlete example-wing",
    "compare @ --out %", "plan @ --out %", "report @ --out %",
    "report @ --athlete example-wing", "models --out %", "lesson all --out %",
    "start %", "help --man", "help taper",
]

FAKE_GNUPLOT = """#!/bin/sh
file=$(sed -n "s/^set output '\\(.*\\)'$/\\1/p")
echo '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"></svg>' >"$file"
"""
STALE = b"what stood here before\n"
failures = []
runs = 0


def write(path, text, mode=0o644):
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    os.chmod(path, mode)


def read(path):
    with open(path, "rb") as file:
        return file.read()


class Place:
    """A folder with --out, a folder for temporary files, and a season."""

    def __init__(self, root, season):
        self.folder = tempfile.mkdtemp(dir=root)
        self.season = season
        self.out = self.folder + "/out"
        self.temporary = self.folder + "/temporary"
        os.mkdir(self.temporary)

    def words(self, command):
        names = {"@": self.season, "%": self.out}
        return [PROGRAM] + [names.get(w, w) for w in command.split()]

    def start(self, command, variables, **more):
        environment = dict(os.environ, TMPDIR=self.temporary,
                           SOURCE_DATE_EPOCH="1774742400", LC_ALL="C",
                           **variables)
        return subprocess.Popen(
            self.words(command), env=environment, stdin=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            **{"stdout": subprocess.PIPE, **more})

    def run(self, command, variables, **more):
        global runs
        runs += 1
        child = self.start(command, variables, **more)
        try:
            out, err = child.communicate(timeout=120)
        except subprocess.TimeoutExpired:
            child.kill()
            child.communicate()
            return "hangs", b"", b""
        return (child.returncode, (out or b"").replace(
            self.folder.encode(), b""), err.replace(self.folder.encode(), b""))

    def files(self):
        if not os.path.isdir(self.out):
            return {}
        return {name: read(self.out + "/" + name)
                for name in os.listdir(self.out)
                if os.path.isfile(self.out + "/" + name)}

    def lay(self, names):
        """Puts a stale file at every name that the command writes."""
        shutil.rmtree(self.out, ignore_errors=True)
        if names:
            os.mkdir(self.out)
        for name in names:
            with open(self.out + "/" + name, "wb") as file:
                file.write(STALE)

    def clear(self):
        shutil.rmtree(self.folder)


def fail(what, command, variables, said=b""):
    words = " ".join(f"{k}={v}" for k, v in variables.items() if k[0] == "F")
    failures.append(what)
    print(f"FAILED: {what}\n  {words} peakward {command}\n  "
          + said.decode(errors="replace")[:600], flush=True)


def check_files(place, clean, before, command, variables):
    for name, content in place.files().items():
        if name.startswith("."):
            fail(f"left behind in --out: {name}", command, variables)
        elif content not in (clean["files"].get(name), before):
            fail(f"not whole: {name}", command, variables)
    for name in os.listdir(place.temporary):
        fail(f"left behind: {name}", command, variables)


def check_end(clean, got, command, variables):
    """Exit 3 and a message, or what a run without fault gives."""
    code, out, err = got
    if code == 3 and b"peakward: " in err:
        return
    if code == clean["code"] and out == clean["out"] and err == clean["err"]:
        return
    fail(f"exit {code} instead of 3 with a message (or all as without fault)",
         command, variables, err)


def clean_run(place, command, variables):
    place.lay([])
    code, out, err = place.run(command, variables)
    clean = {"code": code, "out": out, "err": err, "files": place.files()}
    if code not in (0, 1):
        fail(f"exit {code} without any fault", command, {}, err)
    return clean


def places_of(place, command, variables, kind):
    """The numbers of the first call from each place, and how many calls."""
    log = place.folder + "/log"
    place.lay([])
    place.run(command, dict(variables, LD_PRELOAD=SHIM, FAULT_KIND=kind,
                            FAULT_LOG=log))
    numbers = [int(line) for line in read(log).split()]
    os.remove(log)
    return numbers[:-1], numbers[-1]


def one_fault(root, season, command, clean, variables):
    place = Place(root, season)
    stale = not command.startswith("start")  # it overwrites nothing
    place.lay(clean["files"] if stale else [])
    got = place.run(command, variables)
    if "FAULT_SIGNAL" in variables:
        number = int(variables["FAULT_SIGNAL"])
        if got[0] not in (-number, clean["code"]):
            fail(f"exit {got[0]}, expected to end by signal {number}", command,
                 variables, got[2])
    else:
        check_end(clean, got, command, variables)
    check_files(place, clean, STALE, command, variables)
    place.clear()


def try_faults(root, season, path, kind, each, everything=ALL):
    """Each command, with faults of a kind; `each` are variables that say what
    happens."""
    dice = random.Random(SEED)
    base = {"PATH": path}
    began = time.time()
    tasks = []
    with ThreadPoolExecutor(WORKERS) as pool:
        for command in COMMANDS:
            place = Place(root, season)
            clean = clean_run(place, command, base)
            first, total = places_of(place, command, base, kind)
            place.clear()
            for variables in each:
                chosen = (range(1, total + 1) if everything else
                          sorted(dice.sample(first, min(SAMPLE, len(first)))))
                for at in chosen:
                    tasks.append(pool.submit(
                        one_fault, root, season, command, clean,
                        dict(base, LD_PRELOAD=SHIM, FAULT_KIND=kind,
                             FAULT_AT=str(at), **variables)))
        for task in tasks:
            task.result()
    print(f"faults: {kind} {each[0]}: {len(tasks)} runs of {len(COMMANDS)} "
          f"commands, {time.time() - began:.0f} s", flush=True)


def make_season(root):
    season = root + "/season"
    subprocess.run([PROGRAM, "start", season, "--today", "2026-03-29",
                    "--quiet"], check=True, stdout=subprocess.DEVNULL)
    with open(season + "/tests.csv", "a", encoding="utf-8") as file:
        for i in range(7):
            for athlete, base in (("example-wing", 32), ("example-back", 35)):
                file.write(f"2026-03-{3 * i + 2:02},{athlete},Jump height (cm),"
                           f"{base + (i * 7 % 4) / 3:.1f},1.0,higher,before\n")
    return season


def main():
    root = tempfile.mkdtemp(prefix="peakward-faults-")
    os.mkdir(root + "/bin")
    write(root + "/bin/gnuplot", FAKE_GNUPLOT, 0o755)
    path = root + "/bin:" + os.environ["PATH"]
    season = make_season(root)
    once = {"FAULT_ERROR": str(errno.ENOMEM)}
    full = {"FAULT_ERROR": str(errno.ENOSPC)}
    broken = {"FAULT_ERROR": str(errno.EIO)}
    try_faults(root, season, path, "memory",
               [once, dict(once, FAULT_LASTING="1")])
    try_faults(root, season, path, "write",
               [broken, dict(full, FAULT_LASTING="1")])
    try_faults(root, season, path, "read", [broken])
    try_faults(root, season, path, "write",
               [{"FAULT_SIGNAL": str(int(signal.SIGTERM))},
                {"FAULT_SIGNAL": str(int(signal.SIGINT))}])
    shutil.rmtree(root)
    print(f"faults: {runs} runs, {len(failures)} failures")
    sys.exit(1 if failures else 0)


main()
