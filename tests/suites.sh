#!/bin/sh
# Runs the files of tests side by side and ends with one summary of them all;
# of a file that fails, everything it said stands before it.
#
#   suites.sh RUN_TESTS LOGS [FILE ...]     all files of suites.def, or these
#
# WRAP is put in front of each run, JOBS are run at a time (the processors).
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
run=$1 logs=$2
shift 2
rm -rf "$logs"
mkdir -p "$logs"
began=$(date +%s)
# The last come first: they run the program and take long, so that no processor
# waits for one of them in the end.
[ $# -gt 0 ] || set -- $("$run" --list | tac)
export WRAP="${WRAP:-}" run logs
# shellcheck disable=SC2016 # the inner shell's variables
printf '%s\n' "$@" | xargs -P "${JOBS:-$(getconf _NPROCESSORS_ONLN)}" -I '{}' \
    sh -c 'if $WRAP "$run" {} >"$logs/{}.log" 2>&1; then
            echo "  ok    {}"
        else
            echo "  FAIL  {}"
            echo {} >>"$logs/failed"
        fi'

# A run that died before its summary counts as one test that failed.
for file in "$@"; do
    grep -q '^ *asserts ' "$logs/$file.log" || echo "$file" >>"$logs/died"
done
if [ -f "$logs/failed" ]; then
    sort -u "$logs/failed" | while read -r file; do
        echo "---- $file failed:"
        cat "$logs/$file.log"
    done
fi
died=0
[ ! -f "$logs/died" ] || died=$(wc -l <"$logs/died")
cat "$logs"/*.log | awk -v files=$# -v died="$died" -v began="$began" \
    -v now="$(date +%s)" '
    $1 == "suites" { broken += $5 }
    $1 == "tests" || $1 == "asserts" {
        for (i = 2; i <= 5; i++) sum[$1, i] += $i
    }
    function row(what) {
        printf "%20s %9d %9d %9d %6d %8d\n", what, sum[what, 2], sum[what, 3],
            sum[what, 4], sum[what, 5], 0
    }
    END {
        sum["tests", 2] += died; sum["tests", 5] += died
        printf "\nRun Summary:    Type     Total       Ran    Passed Failed Inactive\n"
        printf "%20s %9d %9d %9s %6d %8d\n", "files", files, files, "n/a", broken, 0
        row("tests"); row("asserts")
        printf "\nElapsed time = %d seconds\n", now - began
    }'
[ ! -f "$logs/failed" ] && [ ! -f "$logs/died" ]
