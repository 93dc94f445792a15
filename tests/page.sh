#!/bin/sh
# The page of `report` in a real browser (Debian's chromium, headless) and under
# tidy: valid, whole, no console error, nothing asked of the network, as many
# sheets of paper as athletes at least, contrasts of 4.5 to 1.
#
#   page.sh PROGRAM FOLDER
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
program=$1 out=$2
mkdir -p "$out"
"$program" report data/demo --quiet --out "$out" >/dev/null
page=$out/report.html

tidy -q -e "$page"
echo "tidy: valid"

if grep -Eq '<script|@import|url\(["'"'"']?(http|//)|src=|<link|href="(http|//)' "$page"; then
    echo "the page asks for something outside of itself" >&2
    exit 1
fi
echo "nothing from outside"

browse() {
    chromium --headless --no-sandbox --disable-gpu --hide-scrollbars \
        --enable-logging=stderr --user-data-dir="$out/profile" "$@" \
        "file://$(realpath "$page")" >"$out/browser.log" 2>&1
    if grep -q 'CONSOLE' "$out/browser.log"; then
        grep 'CONSOLE' "$out/browser.log" >&2
        exit 1
    fi
}
browse --window-size=1200,3000 --screenshot="$out/desktop.png"
browse --window-size=500,3000 --screenshot="$out/phone.png"
browse --window-size=500,3000 --blink-settings=preferredColorScheme=0 \
    --screenshot="$out/dark.png"
browse --print-to-pdf="$out/report.pdf" --no-pdf-header-footer
rm -rf "$out/profile"
for picture in desktop phone dark; do
    [ "$(stat -c %s "$out/$picture.png")" -gt 20000 ] || {
        echo "$out/$picture.png: nearly empty" >&2
        exit 1
    }
done
sheets=$(pdfinfo "$out/report.pdf" | sed -n 's/^Pages: *//p')
athletes=$(grep -c '<section id="athlete-' "$page")
[ "$sheets" -gt "$athletes" ]
echo "chromium: no console error; $sheets sheets for $athletes athletes"

/usr/bin/python3 tests/page_contrast.py src/present/page.c
