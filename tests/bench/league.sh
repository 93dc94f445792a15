#!/bin/sh
# Time and memory of a whole league, on one thread and on all; the bytes must be
# the same.
#
#     league.sh PEAKWARD FOLDER ATHLETES
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
peakward=$1
folder=$2/league-$3
/usr/bin/python3 tests/bench/league.py "$folder" "$3"
echo "$3 athletes, 730 days, 16 tests; $(nproc) processors, load $(cut -d ' ' \
    -f 1 /proc/loadavg)"
for command in check fit taper; do
    for threads in 1 "$(nproc)"; do
        printf '%-5s  --threads %s  ' $command "$threads"
        /usr/bin/time -f '%e s, processor %U s, at most %M kB' \
            "$peakward" $command "$folder" --quiet --threads "$threads" \
            >"$folder/$command-$threads"
    done
    cmp "$folder/$command-1" "$folder/$command-$(nproc)"
done
