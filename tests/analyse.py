#!/usr/bin/python3
"""What three static analysers say of src/, less what has been looked at.

analyse.py [WORD]: gcc -fanalyzer, clang-tidy (.clang-tidy) and cppcheck over
every source file, or those with WORD in their names. A finding that does not
stand in tests/analyse.known makes it fail; so does a line there that nothing
says any more, when all files are read.

SPDX-License-Identifier: GPL-3.0-or-later
"""
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

FLAGS = ["-std=c11", "-D_XOPEN_SOURCE=700", "-Isrc", '-DVERSION="0"',
         '-DSHARE_DIR="/usr/share/peakward"']
KNOWN = Path("tests/analyse.known")


def tools(source):
    return [
        ["gcc", *FLAGS, "-O1", "-fanalyzer", "-c", "-o", "/dev/null", source],
        ["clang-tidy", "--quiet", source, "--", *FLAGS],
        ["cppcheck", "--quiet", "--std=c11", "--inline-suppr", "--library=posix",
         "--library=tests/cppcheck.cfg", "--suppress=missingIncludeSystem",
         "--enable=warning,performance,portability", "-Isrc", source],
    ]


def findings(source):
    """FILE | CHECK | the line of source, for each warning or error."""
    found = set()
    for words in tools(source):
        said = subprocess.run(words, capture_output=True, text=True)
        for line in (said.stdout + said.stderr).splitlines():
            match = re.match(r"(\S+?):(\d+):\d+: (?:warning|error): .*"
                             r"\[([^\]]+)\]$", line)
            if not match:
                continue
            path = Path(match[1]).resolve().relative_to(Path.cwd())
            text = path.read_text().splitlines()[int(match[2]) - 1].strip()
            found.add(f"{path} | {match[3]} | {text}")
    return found


def known():
    lines = KNOWN.read_text().splitlines()
    return {line for line in lines if line and not line.startswith("#")}


def main():
    word = (sys.argv + [""])[1]
    sources = sorted(str(p) for p in Path("src").rglob("*.c")
                     if word in str(p))
    with ThreadPoolExecutor(2) as pool:
        found = set().union(*pool.map(findings, sources))
    fresh, gone = found - known(), known() - found
    for line in sorted(fresh):
        print("new:", line)
    for line in sorted(gone) if not word else []:
        print("no longer said:", line)
    print(f"analyse: {len(sources)} files, {len(found)} findings, "
          f"{len(found & known())} of them known")
    sys.exit(1 if fresh or (gone and not word) else 0)


if __name__ == "__main__":
    main()
