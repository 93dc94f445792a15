#!/bin/sh
# make install into a folder: the program runs and draws from there, manual pages
# are clean to groff, the completion works in bash; uninstall leaves nothing.
#
#   install.sh BUILD
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
build=$1
root=$(mktemp -d)
trap 'rm -rf "$root"' EXIT
make --no-print-directory -s install BUILD="$build" DESTDIR="$root" PREFIX=/usr

(
    cd "$root"
    usr/bin/peakward taper usr/share/peakward/data/demo --athlete wing-07 \
        --quiet --out "$root/pictures" >/dev/null
    usr/bin/peakward lesson bundle >/dev/null
    usr/bin/peakward lesson --page "$root/pictures/sliders.html" >/dev/null
)
[ -s "$root/pictures/wing-07-map.svg" ]
rm -rf "$root/pictures"

pages=0
for page in "$root"/usr/share/man/man[157]/*; do
    [ -f "$page" ] || continue
    said=$(groff -man -ww -z "$page" 2>&1)
    [ -z "$said" ] || {
        echo "$page: $said" >&2
        exit 1
    }
    pages=$((pages + 1))
done
commands=$("$root/usr/bin/peakward" help | sed -n '/^Commands:/,/^$/p' |
    grep -c '^  [a-z]')
[ "$pages" -ge $((commands + 1)) ]

# shellcheck disable=SC2016 # bash's variables, not ours
bash -c '. "$1"
    COMP_WORDS=(peakward taper --ai) COMP_CWORD=2; _peakward
    [ "${COMPREPLY[*]}" = --aim ] || exit 1
    COMP_WORDS=(peakward re) COMP_CWORD=1; _peakward
    [ "${COMPREPLY[0]}" = report ] || exit 1
    COMP_WORDS=(peakward taper --model bus) COMP_CWORD=3; _peakward
    [ "${COMPREPLY[0]}" = busso-2003 ]' bash \
    "$root/usr/share/bash-completion/completions/peakward"

make --no-print-directory -s uninstall DESTDIR="$root" PREFIX=/usr
left=$(find "$root" -type f)
[ -z "$left" ] || {
    echo "uninstall leaves: $left" >&2
    exit 1
}
echo "install: runs from its prefix; $pages manual pages; nothing left behind"
