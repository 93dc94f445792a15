#!/bin/sh
# Commands under valgrind: no error, no leak.
#
#   valgrind.sh BUILD
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
build=$1
rm -rf "$build/started"
for command in "check data/demo" "load data/demo --weekly" \
    "simulate data/demo --athlete wing-07" "taper data/demo" \
    "compare data/demo" "plan data/demo" "fit data/demo --athlete wing-07" \
    "taper data/demo --joint --athlete wing-07" "taper data/demo --groups 2" \
    "taper data/demo --models own,busso-2003 --athlete wing-07" \
    "taper data/demo --build-up 20 --athlete wing-07" \
    "lesson all" "lesson approach --csv" "lesson --page $build/sliders.html" \
    "report data/demo --athlete wing-07" \
    "help --man" "help --completion" "start $build/started" \
    "taper data/demo --model busso-2003" models "taper no-such-folder" \
    "experiment tests/study/advised.csv --athletes 1" \
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
