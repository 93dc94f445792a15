#!/bin/sh
# The main job on the demo season: can the files be trusted, who should do
# what, the plan of one athlete, and the pictures, whose paths come last.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
peakward=$1
out=$2
season=data/demo
run() {
    echo
    echo "\$ peakward $*"
    echo
    "$peakward" "$@"
}
run check $season
run compare $season --athlete wing-07
run plan $season --athlete wing-07
run taper $season
mkdir -p "$out"
for format in svg png; do
    "$peakward" taper $season --quiet --out "$out" --format $format >/dev/null
    "$peakward" compare $season --quiet --out "$out" --format $format >/dev/null
    "$peakward" taper $season --joint --quiet --out "$out" --format $format \
        >"$out/joint.txt"
    "$peakward" taper $season --plans 8 --quiet --out "$out" --format $format \
        >"$out/squad.txt"
    "$peakward" models --out "$out" --format $format >/dev/null
done
for name in taper plan compare simulate; do
    "$peakward" $name $season --quiet >"$out/$name.txt"
    "$peakward" $name $season --quiet --csv >"$out/$name.csv"
done
"$peakward" plan $season --quiet --out "$out" >/dev/null
"$peakward" report $season --quiet --out "$out" >/dev/null
echo
echo "Tables of every athlete, as text and CSV:"
ls "$out"/*.txt "$out"/*.csv
echo
echo "Pictures, as svg and png; one athlete's here, all eight in $out:"
ls "$out"/wing-07-*.svg "$out"/wing-07-*.png "$out"/literature-influence.*
echo
echo "Plan, event week and calendar of one athlete, and the page for the squad:"
ls "$out"/wing-07-plan* "$out"/report.html
