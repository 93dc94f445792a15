#!/bin/sh
# Time and memory of whole commands on invented squads and leagues, two years and
# 16 tests an athlete; what takes more than is aimed at is said by name.
#
#     whole.sh PEAKWARD FOLDER
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
peakward=$1 folder=$2
took=$folder/took
mkdir -p "$folder"

league() {
    /usr/bin/python3 tests/bench/league.py "$folder/league-$1" "$@"
}

# what it is called, seconds and megabytes aimed at on two processors (0: none),
# the league, the command
row() {
    name=$1 seconds=$2 memory=$3 season=$folder/league-$4 command=$5
    shift 5
    /usr/bin/time -o "$took" -f '%e %U %M' "$peakward" "$command" "$season" \
        --quiet "$@" >"$folder/said"
    awk -v name="$name" -v seconds="$seconds" -v memory="$memory" '{
        printf "%-40s %7.1f s, processor %7.1f s, at most %5.0f MB\n", name, $1,
            $2, $3 / 1024
        if (seconds && $2 > 2 * seconds)
            printf "Missed: %s: aimed at %g s of two processors\n", name, seconds
        if (memory && $3 > 1024 * memory)
            printf "Missed: %s: aimed at %g MB\n", name, memory
    }' "$took"
}

echo "$(nproc) processors, load $(cut -d ' ' -f 1 /proc/loadavg)"
league 1 --events 24
row 'taper --joint, 1 athlete, 24 events' 4 0 1 taper --joint
league 200
row 'report, 200 athletes' 20 0 200 report --out "$folder/report"
league 300
row 'taper --groups 8, 300 athletes' 4 0 300 taper --groups 8
league 1000
row 'check, 1,000 athletes' 2 0 1000 check
row 'fit, 1,000 athletes' 0 0 1000 fit
row 'taper, 1,000 athletes' 0 0 1000 taper
league 10000
row 'check, 10,000 athletes' 20 500 10000 check
row 'taper, 10,000 athletes' 0 500 10000 taper
