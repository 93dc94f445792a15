#!/bin/sh
# Everything that `make check` runs once it has built: floors, layout, tests
# under sanitizers, tests under valgrind, and last the plain tests, whose
# summary ends the output.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
build=$1
tests/check_floors.sh
make --no-print-directory format-check
echo "layout: clang-format agrees"

echo "== tests under address and undefined-behaviour sanitizers"
PEAKWARD_QUICK=1 PEAKWARD=$build/sanitized/peakward "$build/sanitized/run_tests" \
    >"$build/sanitized.log" 2>&1 || {
    cat "$build/sanitized.log"
    exit 1
}
tail -n 8 "$build/sanitized.log"

echo "== tests under valgrind (all but the program's own, which follow)"
for suite in base season response calibrate taper events squad lesson present; do
    PEAKWARD_QUICK=1 valgrind --quiet --leak-check=full --errors-for-leak-kinds=all \
        --error-exitcode=9 "$build/run_tests" $suite \
        >"$build/valgrind.log" 2>&1 || {
        cat "$build/valgrind.log"
        exit 1
    }
    echo "valgrind: $suite: no error, no leak"
done

echo "== an installed program"
tests/install.sh "$build"

echo "== the page in a browser"
if command -v chromium >/dev/null && command -v tidy >/dev/null &&
    command -v pdfinfo >/dev/null; then
    tests/page.sh "$build/peakward" "$build/page"
else
    echo "NOT RUN: there is no chromium; 'make check-page' installs it"
fi

echo "== athletes in parts, and on several threads"
tests/parts.sh "$build/peakward" "$build/parts"

echo "== fuzz targets on their seeds and on what once failed"
make --no-print-directory fuzz-replay

echo "== memory out, disk full, files unreadable, gnuplot failing, signals"
/usr/bin/python3 tests/faults/run.py "$build"

echo "== the program under valgrind"
rm -rf "$build/started"
for command in "check data/demo" "load data/demo --weekly" \
    "simulate data/demo --athlete wing-07" "taper data/demo" \
    "compare data/demo" "plan data/demo" "fit data/demo --athlete wing-07" \
    "taper data/demo --joint --athlete wing-07" "taper data/demo --plans 2" \
    "taper data/demo --models own,busso-2003 --athlete wing-07" \
    "taper data/demo --build-up 20 --athlete wing-07" \
    "lesson all" "report data/demo --athlete wing-07" \
    "help --man" "help --completion" "start $build/started" \
    "taper data/demo --model busso-2003" models "taper no-such-folder" \
    "check data/demo --map load=Nothing"; do
    code=0
    # shellcheck disable=SC2086 # words of a command
    valgrind --quiet --leak-check=full --errors-for-leak-kinds=all \
        --error-exitcode=9 "$build/peakward" $command \
        >"$build/valgrind.log" 2>&1 || code=$?
    if [ "$code" -eq 9 ]; then
        cat "$build/valgrind.log"
        exit 1
    fi
    echo "valgrind: $command: no error, no leak"
done

echo "== tests"
rm -f "$build/evidence.tsv"
PEAKWARD=$build/peakward PEAKWARD_EVIDENCE=$build/evidence.tsv "$build/run_tests" \
    >"$build/tests.log" 2>&1 || {
    cat "$build/tests.log"
    exit 1
}
/usr/bin/python3 tests/evidence.py "$build/evidence.tsv" DEVELOPERS.md
cat "$build/tests.log"
