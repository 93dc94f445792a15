#!/usr/bin/python3
"""Runs every command line that a page shows and compares the output it shows.

    examples.py PROGRAM PAGE...

A page is README.md or a manual page. Of README.md all indented blocks are looked
at: a line that begins with `$ ` or a name in STARTS is a command (a backslash
continues it), what follows a `$ ` line is its output. In a manual page the lines
of the section EXAMPLES between .EX and .EE are commands. They run in order, each
page in a folder of its own with the repository's data, a `season` and a
`log.csv`, and must end with exit code 0.

Shown output must stand in what the command prints, in order: figures are masked,
blanks and line ends count as one blank, `...` stands for anything.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import re
import subprocess
import sys
import tempfile
from pathlib import Path

STARTS = ("peakward ", "build/peakward ", "mkdir ", "cp ", "printf ", "seq ")
NUMBER = r"[-+]?\d*\.?\d+(?:e[-+]?\d+)?"
# Needs other machines, or is tested elsewhere.
ELSEWHERE = re.compile(r"--sshlogin|SLURM|^(?:sudo )?make\b")
# What pages take for granted beside the repository's own folders.
BESIDE = {"log.csv": "Datum;Distanz (km)\n12.01.2026;4,5\n14.01.2026;6,2\n"}


def blocks(text):
    """Runs of lines that are indented by four blanks or more."""
    block = []
    for number, line in enumerate(text.splitlines(), 1):
        if line.startswith("    ") and (block or line.strip()):
            block.append((number, line.strip()))
        elif line.strip() or not block:
            if block:
                yield block
            block = []
    if block:
        yield block


def readme_examples(text):
    """(line, command, shown output or None) in order."""
    for block in blocks(text):
        lines = iter(block)
        found, shown = None, []
        for number, line in lines:
            dollar = line.startswith("$ ")
            setting = re.match(r"[A-Z]+=\S", line)
            if dollar or line.startswith(STARTS) or setting:
                if found:
                    yield (*found, shown)
                command = line[2:] if dollar else line
                while command.endswith("\\"):
                    command = command[:-1] + next(lines)[1]
                found, shown = (number, command), [] if dollar else None
            elif found and shown is not None:
                shown.append(line)
        if found:
            yield (*found, shown)


def manual_examples(text):
    section = re.search(r"^\.SH EXAMPLES\n(.*?)(?=^\.SH|\Z)", text,
                        re.M | re.S)
    for part in re.findall(r"^\.EX\n(.*?)^\.EE", section.group(1), re.M | re.S) \
            if section else []:
        for line in part.splitlines():
            yield 0, line.replace("\\-", "-").replace("\\e", "\\"), None


def pattern_of(shown):
    """A regular expression for the output as shown."""
    pattern = ""
    for word in " ".join(shown).split():
        parts = re.split(rf"(\.\.\.|…|{NUMBER})", word)
        pattern += r"\s+" if pattern else ""
        pattern += "".join(
            ".*?" if part in ("...", "…") else
            rf"[\s]*{NUMBER}" if re.fullmatch(NUMBER, part) else
            re.escape(part) for part in parts if part)
    # `...` alone also stands for nothing at all
    return pattern.replace(r"\s+.*?\s+", r"\s.*?").replace(r"\s+.*?", r".*?")


def run_page(program, page):
    text = Path(page).read_text(encoding="utf-8")
    manual = not page.endswith(".md")
    examples = (manual_examples if manual else readme_examples)(text)
    failures, count, settings = [], 0, ""
    with tempfile.TemporaryDirectory(prefix="peakward-page-") as folder:
        for name in ("data", "models", "plots", "README.md"):
            os.symlink(os.path.abspath(name), f"{folder}/{name}")
        os.symlink(os.path.abspath("data/demo"), folder + "/season")
        for name, content in BESIDE.items():
            Path(folder, name).write_text(content, encoding="utf-8")
        os.mkdir(folder + "/build")
        os.symlink(program, folder + "/build/peakward")
        paths = {**os.environ, "PATH": f"{folder}/build:{os.environ['PATH']}"}
        for line, command, shown in examples:
            if re.fullmatch(r'[A-Z]+=("[^"]*"|\S+)', command):
                settings += command + "\n"
                continue
            if ELSEWHERE.search(command):
                continue
            count += 1
            done = subprocess.run(["sh", "-c", settings + command], cwd=folder,
                                  env=paths, text=True, capture_output=True,
                                  stdin=subprocess.DEVNULL, check=False)
            place = f"{page}:{line}: {command}"
            if done.returncode != 0:
                failures.append(f"{place}\nexit {done.returncode}: "
                                f"{done.stderr[-500:]}")
            elif shown and not re.search(pattern_of(shown), done.stdout, re.S):
                failures.append(f"{place}\nprints otherwise than shown:\n"
                                f"{done.stdout}")
    if not manual and count < 10:
        failures.append(f"{page}: only {count} commands were found")
    return failures, count


def main():
    program = os.path.abspath(sys.argv[1])
    failures, count = [], 0
    for page in sys.argv[2:]:
        found, ran = run_page(program, page)
        failures += found
        count += ran
    print("\n\n".join(failures) if failures else f"{count} commands ran")
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    main()
