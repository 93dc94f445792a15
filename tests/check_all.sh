#!/bin/sh
# Everything: what `make check` runs, then sanitizers, valgrind, an installed
# program, the page in a browser, parts, fuzz targets on their seeds, failures of
# the system, the Debian package, and last all suites in full, whose summary
# ends the output.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
build=$1
began=$(date +%s)
title() {
    echo "== $1 (after $(($(date +%s) - began)) s)"
}
# Runs a step and shows what it said only when it fails, else its last line.
quiet() {
    "$@" >"$build/step.log" 2>&1 || {
        cat "$build/step.log"
        exit 1
    }
    tail -n 1 "$build/step.log"
}

tests/check_floors.sh
make --no-print-directory format-check
echo "layout: clang-format agrees"

title "the demo, short enough to be read"
quiet tests/demo.sh "$build/peakward" "$build/demo"
[ "$(wc -l <"$build/step.log")" -lt 60 ]

title "an installed program"
tests/install.sh "$build"

title "the page in a browser"
tests/page.sh "$build/peakward" "$build/page"

title "a real squad, where its files are"
tests/real.sh "$build/peakward" "$build/real"

title "athletes in parts, and on several threads"
tests/parts.sh "$build/peakward" "$build/parts"

title "fuzz targets on their seeds and on what once failed"
make --no-print-directory fuzz-replay

title "memory out, disk full, files unreadable, gnuplot failing, signals"
/usr/bin/python3 tests/faults/run.py "$build"

title "the Debian package"
if [ "$(id -u)" -eq 0 ] && [ ! -e /usr/bin/peakward ]; then
    make --no-print-directory check-deb BUILD="$build"
else
    echo "NOT RUN: it is installed and removed, which needs root and a system" \
        "without it"
fi

title "the program under valgrind"
tests/valgrind.sh "$build"

title "tests under valgrind"
# Those that run other programs are left out: they follow.
# shellcheck disable=SC2046 # one word a file
PEAKWARD_QUICK=1 quiet env WRAP="valgrind --quiet --leak-check=full
    --errors-for-leak-kinds=all --error-exitcode=9" \
    tests/suites.sh "$build/run_tests" "$build/valgrind" \
    $("$build/run_tests" --list | grep -v '^program_')

title "tests under address and undefined-behaviour sanitizers"
PEAKWARD_QUICK=1 PEAKWARD=$build/sanitized/peakward \
    tests/suites.sh "$build/sanitized/run_tests" "$build/sanitized/logs"

title "tests"
rm -f "$build/evidence.tsv"
PEAKWARD=$build/peakward PEAKWARD_EVIDENCE=$build/evidence.tsv \
    tests/suites.sh "$build/run_tests" "$build/logs" >"$build/tests.log" 2>&1 || {
    cat "$build/tests.log"
    exit 1
}
/usr/bin/python3 tests/evidence.py "$build/evidence.tsv" DEVELOPERS.md
cat "$build/tests.log"
