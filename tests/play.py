# `lesson --play` through a pseudo-terminal: what keys change, and that the
# terminal is as it was however the program ends.
#
#   play.py PROGRAM      prints "good" or what is wrong
#
# SPDX-License-Identifier: GPL-3.0-or-later
import math
import os
import pty
import re
import select
import signal
import subprocess
import sys
import termios
import time

PROGRAM = sys.argv[1]
PATIENCE = 60  # [s] a valgrind or a busy machine may need them


class Player:
    """A child that leads a session on a pty, with the program in a process
    group of its own in the foreground, as a shell starts it."""

    def __init__(self, model="classic", term="xterm"):
        self.master, self.slave = pty.openpty()
        self.found = termios.tcgetattr(self.slave)
        self.text = ""
        words, read, write = [PROGRAM, "lesson", "--play", "--model", model], *os.pipe()
        os.set_inheritable(write, True)
        self.leader = os.fork()
        if self.leader == 0:
            self.lead(words, term, write)
        os.close(write)
        self.child = int(os.read(read, 20))
        self.read = read

    def lead(self, words, term, write):
        import fcntl
        os.setsid()
        fcntl.ioctl(self.slave, termios.TIOCSCTTY, 0)
        signal.signal(signal.SIGTTOU, signal.SIG_IGN)

        def front():
            os.setpgid(0, 0)
            os.tcsetpgrp(self.slave, os.getpid())
            # a shell's background jobs begin with some of them ignored
            for number in (signal.SIGTTOU, signal.SIGINT, signal.SIGQUIT):
                signal.signal(number, signal.SIG_DFL)

        child = subprocess.Popen(words, stdin=self.slave, stdout=self.slave,
                                 stderr=self.slave, preexec_fn=front,
                                 env={**os.environ, "TERM": term})
        os.write(write, b"%d" % child.pid)
        while True:
            _, state = os.waitpid(child.pid, os.WUNTRACED)
            if os.WIFSTOPPED(state):
                os.write(write, b"stopped ")
                continue
            os.write(write, b"signal %d" % os.WTERMSIG(state)
                     if os.WIFSIGNALED(state) else b"exit %d" % os.WEXITSTATUS(state))
            os._exit(0)

    def wait_for(self, wanted, what):
        end = time.time() + PATIENCE
        while not re.search(wanted, self.text):
            if time.time() > end or not select.select([self.master], [], [], end - time.time())[0]:
                raise AssertionError(f"{what}: no {wanted!r} in {self.text[-900:]!r}")
            self.text += os.read(self.master, 65536).decode()

    def press(self, keys, wanted):
        self.text = ""
        os.write(self.master, keys.encode())
        self.wait_for(wanted, f"key {keys!r}")

    def outcome(self, wanted):
        said, end = "", time.time() + PATIENCE
        while wanted not in said:
            if time.time() > end or not select.select([self.read, self.master], [], [], 1)[0]:
                assert time.time() < end, f"{said!r} is not {wanted!r}"
                continue
            if select.select([self.master], [], [], 0)[0]:
                self.text += os.read(self.master, 65536).decode()
            if select.select([self.read], [], [], 0)[0]:
                part = os.read(self.read, 100).decode()
                assert part, f"{said!r} is not {wanted!r}"
                said += part
        return said

    def same(self, after):
        now = termios.tcgetattr(self.slave)
        assert now == self.found, f"{after}: the terminal is {now}, was {self.found}"

    def taken(self):
        flags = termios.tcgetattr(self.slave)[3]
        assert not flags & (termios.ICANON | termios.ECHO), "keys are not read one by one"

    def close(self):
        os.waitpid(self.leader, 0)
        while select.select([self.master], [], [], 0)[0]:
            self.text += os.read(self.master, 65536).decode()
        for each in (self.master, self.slave, self.read):
            os.close(each)


LAST = "q: quit"


def gain(tau1, tau2, ratio, days, cut, load=100):
    return -load * cut / 100 * sum(math.exp(-u / tau1) - ratio * math.exp(-u / tau2)
                                   for u in range(1, days + 1))


def shown(text):
    return re.escape("no taper: %.4g " % text)


def keys():
    p = Player()
    p.wait_for(shown(gain(45, 15, 2, 14, 50)) + r"(.|\n)*" + LAST, "start")
    p.taken()
    p.press("T", shown(gain(46, 15, 2, 14, 50)))
    p.press("f", shown(gain(46, 14, 2, 14, 50)))
    p.press("K", shown(gain(46, 14, 2.1, 14, 50)))
    p.press("ll", shown(gain(46, 14, 2.1, 12, 50)))
    p.press("C", shown(gain(46, 14, 2.1, 12, 55)))
    p.press("\033[D", shown(gain(46, 14, 2.1, 12, 50)))  # left: the cut
    p.press("\033[A\033[C", shown(gain(46, 14, 2.1, 13, 50)))  # up, right: length
    p.press("\033[5~x\tr", shown(gain(45, 15, 2, 14, 50)))
    assert "\033[?1049h" not in p.text
    os.write(p.master, b"q")
    p.outcome("exit 0")
    p.close()
    assert p.text.endswith("\033[?1049l"), "the screen is not given back"


def ends():
    ways = [("q", "exit 0"), ("\004", "exit 0"), ("\003", "signal 2"),
            ("\034", "signal 3"), (signal.SIGTERM, "signal 15"),
            (signal.SIGHUP, "signal 1")]
    for way, wanted in ways:
        p = Player()
        p.wait_for(LAST, "start")
        if isinstance(way, str):
            os.write(p.master, way.encode())
        else:
            os.kill(p.child, way)
        p.outcome(wanted)
        p.same(f"{way!r}")
        p.close()


def stopped():
    p = Player()
    p.wait_for(LAST, "start")
    p.press("T", shown(gain(46, 15, 2, 14, 50)))
    os.write(p.master, b"\032")
    p.outcome("stopped")
    p.same("ctrl-Z")
    p.text = ""
    os.kill(p.child, signal.SIGCONT)
    p.wait_for(shown(gain(46, 15, 2, 14, 50)) + r"(.|\n)*" + LAST, "going on")
    p.taken()
    os.write(p.master, b"q")
    p.outcome("exit 0")
    p.same("ctrl-Z, then q")
    p.close()


def plain():
    p = Player("triathlete-swim", "dumb")
    p.wait_for(LAST, "start")
    assert "tau2" not in p.text and "\033" not in p.text
    p.press("c", r"45 %")
    os.write(p.master, b"q")
    p.outcome("exit 0")
    p.same("TERM=dumb")
    p.close()


def fits():
    for model in ("literature", "busso-2003", "calvert"):
        p = Player(model, "dumb")
        p.wait_for(LAST, "start")
        lines = p.text.replace("\r", "").strip("\n").split("\n")
        assert len(lines) <= 23, f"{model}: {len(lines)} lines"
        assert max(map(len, lines)) <= 79, f"{model}: {max(lines, key=len)!r}"
        os.write(p.master, b"q")
        p.outcome("exit 0")
        p.close()


def refused():
    master, slave = pty.openpty()
    ran = subprocess.run([PROGRAM, "lesson", "--play"], stdin=slave, capture_output=True,
                         text=True, check=False)
    assert ran.returncode == 2 and "standard output is no terminal" in ran.stderr, ran
    assert not ran.stdout
    os.close(master)
    os.close(slave)


for each in (keys, ends, stopped, plain, fits, refused):
    try:
        each()
    except AssertionError as wrong:
        sys.exit(f"{each.__name__}: {wrong}")
print("good")
