#!/bin/sh
# Makes the pictures that README shows again, plots/example-*.svg, with the
# commands that stand beside them there.
#
#   plots/examples.sh PROGRAM
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
program=$1
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT

draw() { # the picture's name here, its file, the command and its words
    name=$1 file=$2
    shift 2
    "$program" "$@" --quiet --out "$out/$name" >/dev/null
    cp "$out/$name/$file.svg" "plots/example-$name.svg"
}

draw season back-03-taper taper data/demo --athlete back-03
draw map back-03-map taper data/demo --athlete back-03
draw sessions back-03-sessions taper data/demo --athlete back-03 \
    --event "Selection weekend" --aim lowest --min-week-load 50
draw peaks pivot-05-peaks taper data/demo --joint --athlete pivot-05
draw losses squad-losses taper data/demo --groups 8

season=$out/club
"$program" start "$season" --from data/first-hour/training.csv --dates dmy \
    --map "date=Datum,athlete=Spielerin,session=Einheit,minutes=Dauer (min),rpe=RPE,ignore=Notiz" \
    >/dev/null
cat >"$season/events.csv" <<END
event,start,days,sessions_per_day,load_per_day,start_time
Spring cup,2026-04-18,2,2,700,10:00 16:00
END
draw first-hour kreis-06-taper taper "$season" --athlete kreis-06
