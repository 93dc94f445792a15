"""What the tests of faults share: a season, places to write into, the runs and
their judgement.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import csv
import os
import shutil
import subprocess
import tempfile

import openpyxl

STALE = b"what stood here before\n"
# Where the pictures of a run go; `file` is the first.
WHERE = """#!/bin/sh
files=$(sed -n 's/^set output "\\(.*\\)"$/\\1/p' | sed 's/\\\\/\\\\0/g')
file=$(printf %b "$(printf '%s\\n' "$files" | head -n 1)")
"""
# Empty pictures that end as an SVG file does, and as a GIF does.
GNUPLOT = WHERE + """printf '%s\\n' "$files" | while IFS= read -r file; do
    printf '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"></svg>;' \\
        >"$(printf %b "$file")"
done
"""


def read(path):
    with open(path, "rb") as file:
        return file.read()


def write(path, text, mode=0o644):
    with open(path, "w", encoding="utf-8") as file:
        file.write(text)
    os.chmod(path, mode)


class Lab:
    """A copy of the program that anyone may run, a stand-in for gnuplot that
    draws an empty picture, and a small season."""

    def __init__(self, build):
        self.root = tempfile.mkdtemp(prefix="peakward-faults-")
        os.chmod(self.root, 0o755)
        self.program = self.root + "/peakward"
        self.shim = self.root + "/shim.so"
        shutil.copy(build + "/peakward", self.program)
        shutil.copy(build + "/tests/faults/shim.so", self.shim)
        for name in ("models", "plots", "data"):
            shutil.copytree(name, self.root + "/home/" + name)
        self.path = self.stand_in("gnuplot", GNUPLOT)
        self.season = self.root + "/season"
        self.failures = self.runs = 0
        self.make_season()
        self.workbook = self.root + "/workbook"
        self.make_workbook()
        self.handed = self.root + "/handed"
        shutil.copytree(self.season, self.handed)
        self.quiet("plan", self.handed, "--hand-out")

    def quiet(self, *words):
        subprocess.run([self.program, *words, "--quiet"], check=True,
                       stdout=subprocess.DEVNULL,
                       env=dict(os.environ, PEAKWARD_HOME=self.root + "/home"))

    def stand_in(self, name, script, mode=0o755):
        """A PATH that begins with a program of this name."""
        folder = tempfile.mkdtemp(dir=self.root)
        os.chmod(folder, 0o755)
        write(folder + "/" + name, script, mode)
        return folder + ":" + os.environ["PATH"]

    def make_season(self):
        self.quiet("start", self.season, "--today", "2026-03-29")
        with open(self.season + "/tests.csv", "a", encoding="utf-8") as file:
            for i in range(7):
                for athlete, base in (("example-wing", 32),
                                      ("example-back", 35)):
                    file.write(f"2026-03-{3 * i + 2:02},{athlete},"
                               f"Jump height (cm),{base + (i * 7 % 4) / 3:.1f},"
                               "1.0,higher,before\n")

    def make_workbook(self):
        """The season with its log as a workbook."""
        shutil.copytree(self.season, self.workbook)
        book = openpyxl.Workbook()
        with open(self.workbook + "/sessions.csv", encoding="utf-8") as file:
            for row in csv.reader(file):
                book.active.append(row)
        book.save(self.workbook + "/sessions.xlsx")
        os.remove(self.workbook + "/sessions.csv")

    def fail(self, what, command, variables=None, said=b""):
        self.failures += 1
        words = " ".join(f"{k}={v}" for k, v in (variables or {}).items()
                         if k.startswith("FAULT"))
        print(f"FAILED: {what}\n  {words} peakward {command}\n  "
              + said.decode(errors="replace")[:600], flush=True)

    def close(self):
        shutil.rmtree(self.root)


class Place:
    """A folder for --out, one for temporary files; the command's words @ and %
    stand for the season and for --out, @log for the season's log, @book for the
    season with a workbook, @handed for that with its plan handed out. What hands
    out a plan finds the season in --out."""

    def __init__(self, lab, season=None):
        self.lab = lab
        self.folder = tempfile.mkdtemp(dir=lab.root)
        os.chmod(self.folder, 0o777)
        self.season = season or lab.season
        self.out = self.folder + "/out"
        self.temporary = self.folder + "/temporary"
        os.mkdir(self.temporary)
        os.chmod(self.temporary, 0o777)

    def start(self, command, variables, **more):
        names = {"@": self.season, "%": self.out,
                 "@log": self.season + "/sessions.csv",
                 "@book": self.lab.workbook, "@handed": self.lab.handed}
        environment = dict(os.environ, TMPDIR=self.temporary, PATH=self.lab.path,
                           PEAKWARD_HOME=self.lab.root + "/home", LC_ALL="C",
                           SOURCE_DATE_EPOCH="1774742400")
        environment.update(variables)
        settings = {"stdin": subprocess.DEVNULL, "stdout": subprocess.PIPE,
                    "stderr": subprocess.PIPE, **more}
        self.lab.runs += 1
        return subprocess.Popen(
            [self.lab.program] + [names.get(w, w) for w in command.split()],
            env=environment, **settings)

    def finish(self, child):
        """Exit code (negative: the signal it died of), output, messages."""
        try:
            out, err = child.communicate(timeout=120)
        except subprocess.TimeoutExpired:
            child.kill()
            child.communicate()
            return "hangs", b"", b""
        hide = self.folder.encode()
        return (child.returncode, (out or b"").replace(hide, b""),
                (err or b"").replace(hide, b""))

    def run(self, command, variables=None, **more):
        return self.finish(self.start(command, variables or {}, **more))

    def files(self):
        if not os.path.isdir(self.out):
            return {}
        return {name: read(self.out + "/" + name)
                for name in os.listdir(self.out)
                if os.path.isfile(self.out + "/" + name)}

    def lay(self, names=(), command=""):
        """An old file at every name that the command writes, or the season that
        it writes into."""
        for folder in (self.out, self.temporary):
            shutil.rmtree(folder, ignore_errors=True)
        os.mkdir(self.temporary)
        os.chmod(self.temporary, 0o777)
        if "--hand-out" in command:
            shutil.copytree(self.lab.season, self.out)
            return
        if names:
            os.mkdir(self.out)
        for name in names:
            with open(self.out + "/" + name, "wb") as file:
                file.write(STALE)

    def clean_run(self, command):
        self.lay(command=command)
        code, out, err = self.run(command)
        if code not in (0, 1):
            self.lab.fail(f"exit {code} without any fault", command, {}, err)
        return {"code": code, "out": out, "err": err, "files": self.files()}

    def check_files(self, clean, command, variables=None):
        """Every file is whole, the new one or the old; nothing else is left."""
        for name, content in self.files().items():
            if name.startswith("."):
                self.lab.fail(f"left in --out: {name}", command, variables)
            elif content not in (clean["files"].get(name), STALE):
                self.lab.fail(f"not whole: {name}", command, variables)
        for name in os.listdir(self.temporary):
            self.lab.fail(f"left behind: {name}", command, variables)

    def check_end(self, clean, got, command, variables=None):
        """Exit 3 and a message, or all as a run without fault."""
        code, out, err = got
        said = out + err if command.startswith("check") else err
        if code == 3 and (b"peakward: " in err or b"cannot be" in said):
            return
        if (code, out, err) != (clean["code"], clean["out"], clean["err"]):
            self.lab.fail(f"exit {code}, expected 3 with a message or all as "
                          "without fault", command, variables, err)

    def expect(self, command, got, code, part):
        if got[0] != code or part.encode() not in got[2]:
            self.lab.fail(f"exit {got[0]}, expected {code} and '{part}'",
                          command, {}, got[2])

    def clear(self):
        shutil.rmtree(self.folder)
