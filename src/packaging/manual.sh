#!/bin/sh
# Manual pages and completion for bash, as the program writes them.
#
#   manual.sh PROGRAM FOLDER     makes FOLDER/man/*.[157] and FOLDER/completion
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
program=$1 folder=$2
rm -rf "$folder"
mkdir -p "$folder/man"
"$program" help --man >"$folder/man/peakward.1"
for command in $("$program" help --names); do
    "$program" help --man "$command" >"$folder/man/peakward-$command.1"
done
"$program" help --topics | while read -r topic section; do
    "$program" help --man-topic "$topic" >"$folder/man/peakward-$topic.$section"
done
"$program" help --completion >"$folder/completion"
