#!/usr/bin/python3
"""What the program does when the system fails: memory runs out, a disk is full,
files cannot be read or change, gnuplot fails or hangs, a signal comes.

    run.py BUILD [--places | --all] [--only WORD]

However it goes wrong, the program ends with exit code 3 and a message, every
file in --out is whole (the new one or the one that stood there), and nothing is
left in the folder for temporary files. Allocations and file operations fail by
shim.c: at a sample of the places in the program (by whom they are called); with
--places once at each of these; with --all at every single call; with --only of
commands that have the word, and no scenes. scenes.py has the rest.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import errno
import os
import random
import signal
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from multiprocessing import Process

sys.dont_write_bytecode = True
from lab import Lab, Place, read  # noqa: E402
import scenes  # noqa: E402

SEED = 20260329
SAMPLE = 5  # places of each command and fault
SLOW = 2  # places of those that draw much
WORKERS = 2

COMMANDS = [
    "check @", "fit @ --threads 2", "taper @ --csv", "load @ --weekly", "simulate @ --out %", "fit @ --out %",
    "fit @ --next-test", "taper @ --out % --csv", "taper @ --joint",
    "taper @ --min-week-load 60 --aim lowest",
    "taper @ --model busso-2003 --min-week-load 60 --athlete example-wing",
    "compare @ --threads 2 --out %", "plan @ --out %", "report @ --out %",
    "report @ --athlete example-wing", "models --out %", "lesson all --out %",
    "load @ --weekly --format xlsx --out %", "plan @ --format xlsx --out %",
    "load @ --csv --decimal comma",
    "lesson session --out %", "start %", "help --man", "help taper",
    "start % --from @log", "check @book", "load @book --csv",
    "plan % --hand-out", "review @handed", "review @handed --out %",
    "experiment --athletes 2 --csv", "experiment --athletes 2 --out %",
]


ONLY = sys.argv[sys.argv.index("--only") + 1] if "--only" in sys.argv else ""


def places_of(place, command, kind):
    """The numbers of the first call from each place, and how many calls."""
    log = place.folder + "/log"
    place.lay(command=command)
    place.run(command, {"LD_PRELOAD": place.lab.shim, "FAULT_KIND": kind,
                        "FAULT_LOG": log})
    numbers = [int(line) for line in read(log).split()]
    os.remove(log)
    return numbers[:-1], numbers[-1]


def one_fault(lab, command, clean, variables):
    place = Place(lab)
    # start overwrites nothing, so that nothing may stand there
    place.lay([] if command.startswith("start") else clean["files"], command)
    got = place.run(command, variables)
    number = -int(variables.get("FAULT_SIGNAL", "0"))
    if number == 0:
        place.check_end(clean, got, command, variables)
    elif got[0] not in (number, clean["code"]):
        lab.fail(f"exit {got[0]}, expected {number} (by the signal)", command,
                 variables, got[2])
    place.check_files(clean, command, variables)
    place.clear()


def choose(command, first, total, dice):
    """At which calls it fails."""
    if "--all" in sys.argv:
        return range(1, total + 1)
    if "--places" in sys.argv:
        return first
    slow = command.startswith(("lesson all", "report"))
    return dice.sample(first, min(SLOW if slow else SAMPLE, len(first)))


def try_faults(lab, kind, each):
    """Every command, with faults of a kind; `each` says what then happens."""
    dice = random.Random(SEED)
    began = time.time()
    tasks = []
    with ThreadPoolExecutor(WORKERS) as pool:
        for command in [c for c in COMMANDS if ONLY in c]:
            place = Place(lab)
            clean = place.clean_run(command)
            first, total = places_of(place, command, kind)
            place.clear()
            for variables in each:
                tasks += [pool.submit(
                    one_fault, lab, command, clean,
                    dict(variables, LD_PRELOAD=lab.shim, FAULT_KIND=kind,
                         FAULT_AT=str(at))) for at in choose(command, first, total, dice)]
        for task in tasks:
            task.result()
    print(f"faults: {kind}, {' or '.join(str(e) for e in each)}: {len(tasks)} "
          f"runs of {sum(ONLY in c for c in COMMANDS)} commands, {time.time() - began:.0f} s",
          flush=True)


def run_scenes(lab, some):
    """In a process of its own: scenes set limits before the program begins,
    which threads may not."""
    for scene in some:
        scene(lab)
    print(f"faults: {', '.join(scene.__name__ for scene in some)}: {lab.runs} "
          "runs", flush=True)
    sys.exit(1 if lab.failures else 0)


def main():
    # a shell's background jobs begin with SIGINT ignored
    signal.signal(signal.SIGINT, signal.default_int_handler)
    lab = Lab(sys.argv[1])
    memory = {"FAULT_ERROR": str(errno.ENOMEM)}
    full = {"FAULT_ERROR": str(errno.ENOSPC)}
    broken = {"FAULT_ERROR": str(errno.EIO)}
    barred = {"FAULT_ERROR": str(errno.EACCES), "FAULT_LASTING": "1"}
    halves = [Process(target=run_scenes, args=(lab, scenes.ALL[i::WORKERS]))
              for i in range(0 if ONLY else WORKERS)]
    for half in halves:
        half.start()
    for half in halves:
        half.join()
        lab.failures += half.exitcode != 0
    try_faults(lab, "memory",
               [memory, dict(memory, FAULT_LASTING="1")])
    try_faults(lab, "write",
               [broken, dict(full, FAULT_LASTING="1")])
    try_faults(lab, "read", [broken, barred])
    try_faults(lab, "write",
               [{"FAULT_SIGNAL": str(int(number))} for number in
                (signal.SIGTERM, signal.SIGINT)])
    lab.close()
    print(f"faults: {lab.runs} runs, {lab.failures} failures")
    sys.exit(1 if lab.failures else 0)


main()
