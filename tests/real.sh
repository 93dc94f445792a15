#!/bin/sh
# A real squad whose daily answers training explains to a few per cent only: what
# stands there is a published taper for everybody, no odds and no gains, not a
# dozen firm private plans. The files are not the project's; where they are not
# there, it says so.
#
#     real.sh PEAKWARD FOLDER [DATA]      (FOLDER is made, and removed)
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
peakward=$1
folder=$2
data=${3:-../shared/data/squad-cc-by}
if [ ! -r "$data/sessions.csv" ]; then
    echo "NOT RUN: no files in $data"
    exit 0
fi
rm -rf "$folder"
mkdir -p "$folder"
trap 'rm -rf "$folder"' EXIT
cp "$data"/*.csv "$folder"
last=$(tail -n +2 "$folder/sessions.csv" | cut -d , -f 1 | sort | tail -n 1)
printf 'event,start,days\nCup,%s,1\n' "$(date -d "$last + 25 days" +%F)" \
    >"$folder/events.csv"
"$peakward" taper "$folder" --quiet >"$folder/taper.txt" 2>/dev/null
"$peakward" taper "$folder" --quiet --csv 2>/dev/null |
    grep recommended >"$folder/taper.csv"
grep -q '^Everybody: .* 8 days with 50 % less volume' "$folder/taper.txt"
grep -q 'cannot tell' "$folder/taper.txt"
[ "$(cut -d , -f 3 "$folder/taper.csv" | sort -u | wc -l)" -eq 1 ]
echo "a real squad: one published taper for $(wc -l <"$folder/taper.csv")" \
    "athletes, without odds"
