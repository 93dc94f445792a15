#!/bin/sh
# A season's athletes in parts, by two workers of GNU parallel: put together
# their rows are those of one run, byte for byte, whatever the number of threads
# and the order of the log's rows; so is a review of all of them. Says nothing on
# standard error but what is wrong.
#
#     parts.sh PEAKWARD FOLDER      (FOLDER is made, and removed)
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
peakward=$1
folder=$2
rm -rf "$folder"
mkdir -p "$folder/shuffled"
trap 'rm -rf "$folder"' EXIT
cp data/demo/*.csv "$folder/shuffled"
head -n 1 data/demo/sessions.csv >"$folder/shuffled/sessions.csv"
tail -n +2 data/demo/sessions.csv | sort -t , -k 5,5 -k 6,6 \
    >>"$folder/shuffled/sessions.csv"

for command in load simulate fit taper compare plan; do
    "$peakward" $command data/demo --csv --quiet --threads 1 \
        >"$folder/whole"
    for threads in 2 3 16; do
        "$peakward" $command data/demo --csv --quiet --threads $threads \
            >"$folder/threads"
        cmp "$folder/whole" "$folder/threads"
    done
    for parts in 2 3 8; do
        head -n 1 "$folder/whole" >"$folder/parts"
        seq $parts | parallel --jobs 2 --keep-order --halt now,fail=1 \
            "'$peakward' $command '$folder/shuffled' --csv --no-header \
                --quiet --part {}/$parts" >>"$folder/parts"
        cmp "$folder/whole" "$folder/parts"
    done
    echo "$command: parts of 2, 3 and 8 and 1, 2, 3 and 16 threads agree"
done

# A review has no parts: a plan handed out four weeks before the log ends.
"$peakward" plan "$folder/shuffled" --hand-out --today 2026-03-01 --quiet \
    >/dev/null
mkdir "$folder/handed"
cp data/demo/*.csv "$folder/shuffled/plan.csv" "$folder/handed"
"$peakward" review "$folder/handed" --csv --quiet --threads 1 >"$folder/whole"
for threads in 2 3 16; do
    for season in handed shuffled; do
        "$peakward" review "$folder/$season" --csv --quiet \
            --threads $threads >"$folder/threads"
        cmp "$folder/whole" "$folder/threads"
    done
done
echo "review: 1, 2, 3 and 16 threads and shuffled rows agree"

# An answer that does not fit into a temporary file is no answer.
(
    trap '' XFSZ
    ulimit -f 1
    "$peakward" taper data/demo --csv --quiet 2>&1 | cat
    "$peakward" taper data/demo --csv --quiet 2>/dev/null | cat | wc -c
) | tee "$folder/full" >/dev/null
grep -q "the answer cannot be kept in a temporary file: File too large" \
    "$folder/full"
grep -qx "0" "$folder/full"
echo "a temporary file that is full: said, and nothing half-written"
