#!/usr/bin/python3
"""Which lines and branches of src/ have the tests gone through?

coverage.py BUILD LINES BRANCHES: runs the files of tests in BUILD, whose objects
count (gcov), prints a row a file of src/, with --detail what
was never run, and fails below LINES or BRANCHES per cent. Which tests ran which
lines is left in BUILD/reached.json, for mutants_random.py.

Left out, by rule: what runs only when memory is out, that is lines that call
mem_out(), the decision in front of them, and the two functions that end the
program then.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import json
import os
import re
import shutil
import subprocess
import sys
from collections import defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

OUT_OF_MEMORY = {"mem_out", "out_of_memory"}


def counted(build):
    """gcov's JSON, one document an object."""
    data = sorted(str(p) for p in Path(build).rglob("*.gcda")
                  if "tests" not in p.relative_to(build).parts)
    said = subprocess.run(["gcov", "--json-format", "--branch-probabilities",
                           "--stdout", *data], check=True,
                          capture_output=True, text=True).stdout
    return [json.loads(line) for line in said.splitlines() if line.strip()]


def left_out(source):
    """Numbers of lines and of decisions that only missing memory reaches."""
    lines, decisions = set(), set()
    for number, text in enumerate(source, 1):
        if re.search(r"\bmem_out\(\);", text):
            lines.add(number)
            decisions.update((number - 1, number))
    return lines, decisions


def add(files, documents):
    """file -> line -> [times run, times each branch was taken]"""
    for document in documents:
        for file in document["files"]:
            if not file["file"].startswith("src/"):
                continue
            for line in file["lines"]:
                if line.get("function_name") in OUT_OF_MEMORY:
                    continue
                taken = [b["count"] for b in line["branches"]]
                row = files[file["file"]].setdefault(
                    line["line_number"], [0, [0] * len(taken)])
                row[0] += line["count"]
                if len(row[1]) == len(taken):
                    row[1] = [a + b for a, b in zip(row[1], taken)]
                else:  # a header's function, laid out anew by each includer
                    row[1] = max(row[1], taken, key=len)


def folder_of_counts(build, name, notes):
    """A folder into which the objects of one run count, so that runs can go side
    by side; gcov wants what the compiler noted of each object beside it."""
    folder = build / "counts" / name
    shutil.rmtree(folder, ignore_errors=True)
    for note in notes:
        beside = folder / str(note).lstrip("/")
        beside.parent.mkdir(parents=True, exist_ok=True)
        beside.symlink_to(note)
    return folder


def run_file(build, name, notes):
    """Processor time [s] and documents of one file of tests."""
    folder = folder_of_counts(build, name, notes)
    environment = {**os.environ, "PEAKWARD_QUICK": "1",
                   "PEAKWARD": f"{build}/peakward", "GCOV_PREFIX": str(folder)}
    with open(f"{folder}.log", "w+", encoding="utf8", errors="replace") as log:
        with subprocess.Popen([f"{build}/run_tests", name], env=environment,
                              stdout=log, stderr=log) as tests:
            _, code, used = os.wait4(tests.pid, 0)
            tests.returncode = code
        if code:
            log.seek(0)
            sys.exit(f"coverage: {name} fails:\n{log.read()}")
    documents = counted(folder)
    shutil.rmtree(folder)
    return used.ru_utime + used.ru_stime, documents


def run_tests(build):
    """What all files of tests ran (as of add), and beside it how long each takes
    and the lines that it runs."""
    files, seconds, reached = defaultdict(dict), {}, defaultdict(dict)
    shutil.rmtree(build / "counts", ignore_errors=True)
    notes = [path for path in build.rglob("*.gcno")
             if path.relative_to(build).parts[0] != "tests"]
    names = subprocess.run([f"{build}/run_tests", "--list"], check=True,
                           text=True, capture_output=True).stdout.split()
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        runs = pool.map(lambda name: run_file(build, name, notes), names)
        for name, (seconds[name], documents) in zip(names, runs):
            add(files, documents)
            alone = defaultdict(dict)
            add(alone, documents)
            for file, lines in alone.items():
                for line, row in lines.items():
                    reached[file].setdefault(line, []).extend(
                        [name] * (row[0] > 0))
    with open(build / "reached.json", "w", encoding="utf8") as file:
        json.dump({"seconds": seconds, "reached": reached}, file)
    return files


def report(files, detailed):
    whole = [0, 0, 0, 0]
    print(f"{'file':38}{'lines':>7}{'run':>9}{'branches':>10}{'taken':>9}")
    for name in sorted(files):
        source = Path(name).read_text().splitlines()
        lines, decisions = left_out(source)
        rows = {n: r for n, r in files[name].items() if n not in lines}
        branches = [b for n, r in rows.items() if n not in decisions
                    for b in r[1]]
        tally = [len(rows), sum(r[0] > 0 for r in rows.values()),
                 len(branches), sum(b > 0 for b in branches)]
        whole = [a + b for a, b in zip(whole, tally)]
        print(row(name, tally))
        for number in sorted(rows):
            if detailed and rows[number][0] == 0:
                print(f"    {number}: {source[number - 1].strip()}")
    print(row("all", whole))
    return whole


def share(part, whole):
    return 100 * part / whole if whole else 100


def row(name, tally):
    lines, run, branches, taken = tally
    return (f"{name:38}{lines:7}{share(run, lines):7.1f} %"
            f"{branches:10}{share(taken, branches):7.1f} %")


def main():
    build, least_lines, least_branches = (
        sys.argv[1], float(sys.argv[2]), float(sys.argv[3]))
    lines, run, branches, taken = report(run_tests(Path(build).resolve()),
                                         "--detail" in sys.argv)
    if share(run, lines) < least_lines:
        sys.exit(f"coverage: fewer than {least_lines:g} % of the lines were run")
    if share(taken, branches) < least_branches:
        sys.exit(f"coverage: fewer than {least_branches:g} % of the branches "
                 "were taken")


if __name__ == "__main__":
    main()
