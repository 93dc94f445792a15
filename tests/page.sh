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

"$program" lesson all --sheets 2 --out "$out/class" >/dev/null
for name in lecture worksheet answers; do
    tidy -q -e "$out/class/$name.html"
    if grep -Eq '<script|@import|src=|<link|href="(http|//)' \
        "$out/class/$name.html"; then
        echo "$name.html asks for something outside of itself" >&2
        exit 1
    fi
done
echo "lecture, worksheet, answers: valid, nothing from outside"

rm -f "$out"/*.png "$out"/*.pdf
browse() {
    chromium --headless --no-sandbox --disable-gpu --hide-scrollbars \
        --disable-background-networking --disable-component-update \
        --no-first-run --allow-file-access-from-files \
        --enable-logging=stderr --user-data-dir="$out/profile" "$@" \
        >"$out/browser.out" 2>"$out/browser.log"
    if grep -q 'CONSOLE' "$out/browser.log"; then
        grep 'CONSOLE' "$out/browser.log" >&2
        exit 1
    fi
}
address=file://$(realpath "$page")
browse --window-size=1200,3000 --screenshot="$out/desktop.png" "$address"
browse --window-size=500,3000 --blink-settings=preferredColorScheme=0 \
    --screenshot="$out/dark.png" "$address"
browse --print-to-pdf="$out/report.pdf" --no-pdf-header-footer "$address"

# Resources asked for, as the browser itself counts them, and the width: a phone
# is narrower than the narrowest window of the browser, so a frame. Nothing may
# be wider than it, but what scrolls in a box of its own.
cat >"$out/phone.html" <<EOF
<!DOCTYPE html><title>phone</title><body style="margin:0">
<iframe src="report.html" width="360" height="2900" style="border:0"></iframe>
<p id="widths"></p><script>onload = () => {
  const page = document.querySelector("iframe").contentDocument;
  document.querySelector("#widths").textContent = "page " +
    page.documentElement.scrollWidth + " of 360, asked for " + document
    .querySelector("iframe").contentWindow.performance
    .getEntriesByType("resource").length;
}</script>
EOF
browse --window-size=500,3000 --screenshot="$out/phone.png" \
    "file://$(realpath "$out/phone.html")"
browse --dump-dom "file://$(realpath "$out/phone.html")"
told=$(sed -n 's/.*id="widths">\([^<]*\)<.*/\1/p' "$out/browser.out")
[ "$told" = "page 360 of 360, asked for 0" ] || {
    echo "on a phone 360 px wide: '$told'" >&2
    exit 1
}
rm -rf "$out/profile"
for picture in desktop phone dark; do
    [ "$(stat -c %s "$out/$picture.png")" -gt 20000 ] || {
        echo "$out/$picture.png: nearly empty" >&2
        exit 1
    }
done
# One sheet of paper an athlete, its two sides; the squad, the sessions, the
# letter; a side an athlete and two of the appendix.
sides=$(pdfinfo "$out/report.pdf" | sed -n 's/^Pages: *//p')
athletes=$(grep -c '<section id="athlete-' "$page")
[ "$sides" -gt $((2 * athletes)) ] && [ "$sides" -le $((3 * athletes + 7)) ] || {
    echo "$sides sides of paper for $athletes athletes" >&2
    exit 1
}
echo "chromium: no console error, no request, fits a phone; $sides sides of" \
    "paper for $athletes athletes"

/usr/bin/python3 tests/page_contrast.py src/present/page.c
