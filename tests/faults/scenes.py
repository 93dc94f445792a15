"""Faults that need no shim, or the shim only to stop at the right moment.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import os
import resource
import shutil
import signal
import time

from lab import STALE, WHERE, Place, read, write

WRITERS = ["taper @ --out %", "fit @ --out %", "plan @ --out %",
           "report @ --out %", "lesson all --out %", "models --out %"]
LOAD = "load @ --csv --athlete example-wing"
NOBODY = {"user": 65534, "group": 65534, "extra_groups": []}


def limited(what, most):
    return lambda: resource.setrlimit(what, (most, most))


def full_output(lab):
    """Standard output cannot be written, or is closed."""
    for command in ("check @", "load @", "taper @ --csv", "plan @", "models",
                    "help taper", "--version", "report @", "lesson all"):
        place = Place(lab)
        with open("/dev/full", "wb") as full:
            got = place.run(command, stdout=full)
        place.expect(command, got, 3, "standard output cannot be written")
        got = place.run(command, stdout=None, preexec_fn=lambda: os.close(1))
        place.expect(command, got, 3, "standard output cannot be written")
        place.clear()


def closed_streams(lab):
    """Files do not get what is meant for a closed standard stream."""
    for command in WRITERS:
        place = Place(lab)
        clean = place.clean_run(command)
        for closed in ((1,), (0, 1, 2)):
            place.lay(clean["files"])
            got = place.run(
                command, stdin=None, stdout=None,
                preexec_fn=lambda c=closed: [os.close(d) for d in c])
            place.check_files(clean, command)
            if got[0] != (3 if 1 in closed else 0):
                lab.fail(f"exit {got[0]} with {closed} closed", command)
        place.clear()


def small_limits(lab):
    """No file larger, no more files open, no more memory than the system lets
    us: it says so."""
    limits = [(resource.RLIMIT_FSIZE, n) for n in (0, 2000)]
    limits += [(resource.RLIMIT_NOFILE, n) for n in (4, 5, 6)]
    limits += [(resource.RLIMIT_AS, n << 20) for n in (20,)]
    for command in WRITERS:
        place = Place(lab)
        clean = place.clean_run(command)
        for what, most in limits:
            place.lay(clean["files"])
            got = place.run(command, preexec_fn=limited(what, most))
            if got[0] == 127 and b"shared libraries" in got[2]:
                continue  # the system's loader could not even begin
            place.check_end(clean, got, command)
            place.check_files(clean, command)
        place.clear()


def bad_gnuplot(lab):
    """gnuplot is missing, fails, leaves half a picture, dies or hangs."""
    half = WHERE + "printf '<svg><g' >\"$file\"\n"
    cases = [
        ("", "is not installed"),
        (WHERE + "echo 'no such terminal' >&2; exit 2\n", "no such terminal"),
        (WHERE, "left no whole picture"),
        (half, "left no whole picture"),
        (half + "kill -KILL $$\n", "signal 9"),
        ("#!/bin/sh\nexec </dev/null\nexit 1\n", "gnuplot failed (exit 1)"),
        (half + "exec sleep 100\n", "did not finish within 60 s"),
        ("#!/bin/sh\nexec sleep 100\n", "did not finish within 60 s"),
        ("#!/no/such/shell\n", "gnuplot cannot be started"),
    ]
    for script, part in cases:
        path = lab.stand_in("gnuplot", script)
        if not script or "/no/such" in script:
            path = path.split(":")[0]  # no other one
        if not script:
            os.remove(path + "/gnuplot")
        slow = {"LD_PRELOAD": lab.shim, "FAULT_CLOCK": "100"}
        for command in WRITERS[:1] + WRITERS[3:5]:
            place = Place(lab)
            clean = {"files": {}}
            got = place.run(command, {
                "PATH": path, **(slow if "sleep" in script else {})})
            place.expect(command, got, 3, part)
            place.check_files(clean, command)
            place.clear()


def stopped_while_drawing(lab):
    """A signal while gnuplot draws: gnuplot ends as well and makes no file
    again."""
    script = WHERE + ("echo $$ >\"$TMPDIR/../pid\"\n"
                        "for n in $(seq 500); do echo '<svg' >\"$file\"; "
                        "sleep .01; done\n")
    path = lab.stand_in("gnuplot", script)
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP,
                   signal.SIGQUIT):
        for command in WRITERS[:1] + WRITERS[3:5]:
            place = Place(lab)
            child = place.start(command, {"PATH": path})
            pid = place.folder + "/pid"
            for _ in range(1000):
                if os.path.exists(pid) and read(pid).endswith(b"\n"):
                    break
                time.sleep(.01)
            time.sleep(.03)
            child.send_signal(number)
            got = place.finish(child)
            if got[0] != -number:
                lab.fail(f"exit {got[0]}, expected {-number}", command)
            if os.path.exists(f"/proc/{int(read(pid))}"):
                lab.fail("gnuplot goes on", command)
                os.kill(int(read(pid)), signal.SIGKILL)
            place.check_files({"files": {}}, command)
            place.clear()


# What becomes of a file while it is read.
def grow(path):
    with open(path, "a", encoding="utf-8") as file:
        file.write("2026-03-29,example-wing,,Court,skill,60,5\n" * 3)


def shrink(path):
    os.truncate(path, os.path.getsize(path) * 2 // 3)


def empty(path):
    os.truncate(path, 0)


def replace(path):
    write(path + ".new", "date,load\n2026-03-29,50\n")
    os.rename(path + ".new", path)


def changed_files(lab):
    """A log that changes while it is read: what comes out is the answer for
    the old file or for the new one, or an error that says so."""
    for number, change in enumerate((grow, shrink, empty, replace, os.remove)):
        place = Place(lab)
        season = place.season = place.folder + "/season"
        shutil.copytree(lab.season, season)
        log = season + "/sessions.csv"
        write(log, big_log())
        old = place.run(LOAD)
        kept = read(log)
        change(log)
        new = place.run(LOAD)
        told = False
        for at in range(1, 40, 2):
            if os.path.exists(log):
                os.remove(log)
            write(log, kept.decode())
            child = place.start(LOAD, {
                "LD_PRELOAD": lab.shim, "FAULT_KIND": "read",
                "FAULT_AT": str(at),
                "FAULT_SIGNAL": str(int(signal.SIGSTOP))})
            _, status = os.waitpid(child.pid, os.WUNTRACED)
            if not os.WIFSTOPPED(status):
                child.returncode = os.waitstatus_to_exitcode(status)
                place.finish(child)
                break
            change(log)
            child.send_signal(signal.SIGCONT)
            got = place.finish(child)
            told = told or b"was changed while it was read" in got[2]
            if got not in (old, new) and not (
                    got[0] == 3 and b"was changed while" in got[2]):
                lab.fail(f"{change.__name__} at read {at}: neither the old "
                         f"answer nor the new: exit {got[0]}", LOAD,
                         {}, got[2])
        else:
            lab.fail("more than 40 reads", LOAD)
        if number < 3 and not told:
            lab.fail(f"{change.__name__} was never told", LOAD)
        place.clear()


def big_log():
    """Larger than what is read at a time."""
    rows = ["date,athlete,time,session,kind,minutes,rpe"]
    for day in range(28):
        for athlete in range(120):
            rows.append(f"2026-03-{day + 1:02},"
                        f"{f'wing-{athlete:03}' if athlete else 'example-wing'}"
                        f",,Court,skill,{60 + athlete % 9},5")
    return "\n".join(rows) + "\n"


def strange_files(lab):
    """A named pipe, a folder, a link to nowhere or a file that may not be read
    in the place of each file."""
    names = ["sessions", "athletes", "tests", "events", "week", "exercises"]
    for name in names:
        for make, part in (
                (os.mkfifo, "is a named pipe"), (os.mkdir, "is a folder"),
                (lambda path: os.symlink("nowhere", path), "cannot be opened"),
                (lambda path: write(path, "date\n", 0), "Permission denied")):
            place = Place(lab)
            place.season = place.folder + "/season"
            shutil.copytree(lab.season, place.season)
            path = f"{place.season}/{name}.csv"
            os.remove(path)
            make(path)
            more = NOBODY if os.geteuid() == 0 else {}
            got = place.run("load @", **more)
            place.expect(f"load @ ({name}.csv)", got, 3, part)
            place.clear()


def barred_folders(lab):
    """--out cannot be written into, or is something else."""
    more = NOBODY if os.geteuid() == 0 else {}
    for command in WRITERS + ["start %"]:
        place = Place(lab)
        os.mkdir(place.out, 0o555)
        place.expect(command, place.run(command, **more), 3,
                     "cannot be written: Permission denied")
        os.rmdir(place.out)
        os.chmod(place.folder, 0o555)
        place.expect(command, place.run(command, **more), 3,
                     "cannot make this folder: Permission denied")
        os.chmod(place.folder, 0o777)
        write(place.out, "a file\n")
        place.expect(command, place.run(command), 3, "is not a folder")
        os.remove(place.out)
        os.symlink("nowhere", place.out)
        place.expect(command, place.run(command), 3, "is not a folder")
        os.remove(place.out)
        place.clear()
    for command in WRITERS:  # a folder where a file should be
        place = Place(lab)
        clean = place.clean_run(command)
        for name in sorted(clean["files"])[::6]:
            place.lay(set(clean["files"]) - {name})
            os.makedirs(f"{place.out}/{name}")
            place.expect(command, place.run(command), 3,
                         f"{name}: cannot be written")
            place.check_files(clean, command)
        place.clear()


def links(lab):
    """start follows no link to nowhere, and leaves it."""
    place = Place(lab)
    os.mkdir(place.out)
    os.symlink("../nowhere", place.out + "/week.csv")
    place.expect("start %", place.run("start %"), 0, "is there already")
    if os.path.exists(place.folder + "/nowhere") or not os.path.islink(
            place.out + "/week.csv"):
        lab.fail("a link to nowhere was written to", "start %")
    place.clear()


def two_at_once(lab):
    """Two runs into the same folder: every file is whole at any time, from the
    one or the other."""
    for one, two in (("plan @ --out % --option 14d-50",
                      "plan @ --out % --option 3d-100"),
                     ("report @ --out % --seed 1", "report @ --out % --seed 2"),
                     ("fit @ --out % --seed 1", "fit @ --out % --seed 2"),
                     ("taper @ --out % --seed 1", "taper @ --out % --seed 2")):
        place = Place(lab)
        files = [place.clean_run(command)["files"] for command in (one, two)]
        for _ in range(3):
            place.lay(files[0])
            children = [place.start(command, {}) for command in (one, two)]
            while any(child.poll() is None for child in children):
                check_either(place, files, one, True)
                time.sleep(.005)
            for child in children:
                place.expect(one, place.finish(child), 0, "")
            check_either(place, files, one, False)
        place.clear()


def check_either(place, files, command, still_at_work):
    for name in os.listdir(place.out):
        if name.startswith("."):
            if not still_at_work:
                place.lab.fail(f"left in --out: {name}", command)
            continue
        content = read(place.out + "/" + name)
        whole = [f.get(name) for f in files] + [STALE] * still_at_work
        if content not in whole:
            place.lab.fail(f"of neither run: {name}", command)


ALL = [full_output, closed_streams, small_limits, bad_gnuplot,
       stopped_while_drawing, changed_files, strange_files, barred_folders,
       links, two_at_once]
