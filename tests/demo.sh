#!/bin/sh
# The main job on the demo season: who should do what, the plan of one athlete,
# a page for the squad and two pictures, whose paths come last.
#
#   demo.sh PROGRAM FOLDER
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
peakward=$1 out=$2
season=data/demo one=back-03
rm -rf "$out"
mkdir -p "$out"

echo "\$ peakward taper $season"
echo
"$peakward" taper $season --quiet >"$out/taper.txt"
awk -v RS= -v ORS='\n\n' 'NR <= 3 || /\nathlete / { print }' "$out/taper.txt"
echo "\$ peakward plan $season --athlete $one     (its last week)"
echo
"$peakward" plan $season --athlete $one --quiet >"$out/plan.txt"
awk -v RS= -v ORS='\n\n' 'NR == 1 || /\*\*\*/ { print }' "$out/plan.txt"

"$peakward" taper $season --athlete $one --quiet --out "$out" >/dev/null
"$peakward" report $season --quiet --out "$out" >/dev/null
echo "Both in full, with their cautions; a page to print for the squad, and two pictures:"
ls "$out/taper.txt" "$out/plan.txt" "$out/report.html" "$out/$one-taper.svg" \
    "$out/$one-map.svg"
