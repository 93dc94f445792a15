#!/bin/sh
# Verifies that #include lines go down only, as src/FLOORS says; that no floor
# holds over a quarter of the lines; that no files of a floor include each other
# in a circle (FILE.c and FILE.h count as one); that answers print nothing; and
# that the functions of a header of cases, answers and output begin with its
# name. Says how large the floors are.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
awk '
    FILENAME == "src/FLOORS" {
        if ($1 ~ /^#/ || NF == 0) next
        order[++floors] = $1
        known[$1] = 1
        may[$1, $1] = 1
        for (i = 2; i <= NF; i++) may[$1, $i] = 1
        next
    }
    FNR == 1 {
        n = split(FILENAME, part, "/")
        floor = n == 2 ? "main" : part[2]
        unit = FILENAME
        sub(/^src\//, "", unit)
        sub(/\.[ch]$/, "", unit)
        units[unit] = 1
        if (!(floor in known)) say(FILENAME ": a floor not in src/FLOORS")
        header = FILENAME ~ /\.h$/ && floor ~ /^(cases|answers|output)$/
        files++
    }
    { lines[floor]++; all++ }
    /^#include "/ {
        split($2, part, "\"")
        split(part[2], way, "/")
        if (!((floor, way[1]) in may))
            say(FILENAME ":" FNR ": " floor " may not include " part[2])
        sub(/\.h$/, "", part[2])
        if (way[1] == floor && part[2] != unit) arrow[unit, part[2]] = 1
    }
    floor == "answers" && /(^|[^A-Za-z0-9_])FILE \*/ {
        say(FILENAME ":" FNR ": answers print nothing")
    }
    # a function in a header: NAME( behind its type, at the line'"'"'s beginning
    header && /^[A-Za-z].*[ *][a-z][a-z0-9_]*\(/ && !/^typedef/ {
        name = $0
        sub(/\(.*/, "", name)
        sub(/.*[ *]/, "", name)
        base = unit
        sub(/.*\//, "", base)
        if (index(name, base) != 1)
            say(FILENAME ":" FNR ": " name "() does not begin with " base)
    }
    function say(text) { print text >"/dev/stderr"; bad = 1 }

    # takes away what includes nothing that is left, or what nothing left
    # includes, until nothing more goes
    function circles(    u, pair, ends, from, into, gone, left) {
        do {
            gone = 0
            split("", from)
            split("", into)
            for (pair in arrow) {
                split(pair, ends, SUBSEP)
                if (!(ends[1] in units) || !(ends[2] in units)) continue
                from[ends[1]] = 1
                into[ends[2]] = 1
            }
            for (u in units)
                if (!(u in from) || !(u in into)) { delete units[u]; gone++ }
        } while (gone)
        for (u in units) left = left " " u
        if (left) say("files that include each other in a circle:" left)
    }
    END {
        if (files < 20) say("only " files + 0 " files were looked at")
        circles()
        for (i = 1; i <= floors; i++) {
            if (4 * lines[order[i]] > all)
                say(order[i] ": " lines[order[i]] " of " all \
                    " lines, over a quarter")
            text = text " " order[i] " " lines[order[i]]
        }
        if (!bad) print "floors: every #include goes down; lines:" text
        exit bad
    }
' src/FLOORS src/*.c src/*/*.c src/*/*.h
