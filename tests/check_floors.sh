#!/bin/sh
# Verifies that #include lines go down only, as src/FLOORS says.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
bad=$(awk '
    FILENAME == "src/FLOORS" {
        if ($1 ~ /^#/ || NF == 0) next
        known[$1] = 1
        may[$1, $1] = 1
        for (i = 2; i <= NF; i++) may[$1, $i] = 1
        next
    }
    FNR == 1 {
        n = split(FILENAME, part, "/")
        floor = n == 2 ? "main" : part[2]
        if (!(floor in known)) print FILENAME ": a floor not in src/FLOORS"
        files++
    }
    /^#include "/ {
        split($2, part, "\"")
        split(part[2], way, "/")
        if (!((floor, way[1]) in may))
            print FILENAME ":" FNR ": " floor " may not include " part[2]
    }
    END { if (files < 20) print "only " files + 0 " files were looked at" }
' src/FLOORS src/*.c src/*/*.c src/*/*.h)
if [ -n "$bad" ]; then
    echo "$bad" >&2
    exit 1
fi
echo "floors: every #include goes down"
