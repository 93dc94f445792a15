#!/bin/sh
# Time and memory of whole commands on invented squads and leagues, two years and
# 16 tests an athlete; what takes more than is aimed at is said by name. The taper
# of 10,000 follows one model for all and looks two weeks back: models of their
# own take as long for each as in the league of 1,000, and memory is the question.
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

# From the league of 1,000: its first so many, or all of them ten times, each time
# under other names.
part() {
    mkdir -p "$folder/league-$1"
    cp "$folder/league-1000/events.csv" "$folder/league-$1"
    for file in sessions tests; do
        "$2" "$folder/league-1000/$file.csv" "$1" \
            >"$folder/league-$1/$file.csv"
    done
}
first() {
    awk -F , -v last="$(printf 'player-%05d' "$2")" \
        'NR == 1 || $2 <= last' "$1"
}
tenfold() {
    head -n 1 "$1"
    for i in 0 1 2 3 4 5 6 7 8 9; do
        tail -n +2 "$1" | sed "s/player-0/player-$i/"
    done
}

# what it is called, seconds and megabytes aimed at on two processors (0: none),
# the league, the command
row() {
    name=$1 seconds=$2 memory=$3 season=$folder/league-$4 command=$5
    shift 5
    /usr/bin/time -o "$took" -f '%e %U %M' "$peakward" "$command" "$season" \
        --quiet "$@" >"$folder/said"
    awk -v name="$name" -v seconds="$seconds" -v memory="$memory" '{
        printf "%-44s %6.1f s, processor %6.1f s, at most %4.0f MB\n", name, $1,
            $2, $3 / 1024
        if (seconds && $2 > 2 * seconds)
            printf "Missed: %s: aimed at %g s of two processors\n", name, seconds
        if (memory && $3 > 1024 * memory)
            printf "Missed: %s: aimed at %g MB\n", name, memory
    }' "$took"
}

echo "$(nproc) processors, load $(cut -d ' ' -f 1 /proc/loadavg)"
league 20 --events 24
league 1000
part 200 first
part 300 first
part 10000 tenfold
row 'taper --joint, 20 athletes, 24 events' 10 300 20 taper --joint
row 'report, 200 athletes' 20 0 200 report --out "$folder/report"
row 'taper --groups 8, 300 athletes' 4 0 300 taper --groups 8
row 'check, 1,000 athletes' 2 0 1000 check
row 'fit, 1,000 athletes' 0 0 1000 fit
row 'taper, 1,000 athletes' 0 0 1000 taper
row 'check, 10,000 athletes' 20 500 10000 check
row 'taper, 10,000 athletes, one model' 0 500 10000 taper --model literature \
    --max-length 14
rm -r "$folder"/league-10000
