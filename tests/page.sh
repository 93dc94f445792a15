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

if grep -Eq '@import|url\(["'"'"']?(http|//)|src=|<link|href="(http|//)' "$page"; then
    echo "the page asks for something outside of itself" >&2
    exit 1
fi
echo "nothing from outside"
# One script, by whose hash alone the policy lets it run.
hash=$(/usr/bin/python3 - "$page" <<'EOF'
import base64, hashlib, re, sys
found = re.findall("<script>(.*?)</script>", open(sys.argv[1]).read(), re.S)
assert len(found) == 1, f"{len(found)} scripts"
print(base64.b64encode(hashlib.sha256(found[0].encode()).digest()).decode())
EOF
)
grep -Fq "form-action 'none'; script-src 'sha256-$hash'\">" "$page" || {
    echo "the policy does not name the script's hash" >&2
    exit 1
}
echo "one script, of the policy's hash"

"$program" lesson all --sheets 2 --out "$out/class" >/dev/null
for name in lecture worksheet answers; do
    tidy -q -e "$out/class/$name.html"
    if sed 's/src="data:[^"]*"//' "$out/class/$name.html" |
        grep -Eq '@import|src=|<link|href="(http|//)'; then
        echo "$name.html asks for something outside of itself" >&2
        exit 1
    fi
done
echo "lecture, worksheet, answers: valid, nothing from outside"
/usr/bin/python3 tests/lecture.py file "$out/class/lecture.html"

"$program" lesson --page "$out/sliders.html" >/dev/null
tidy -q -e "$out/sliders.html"
echo "sliders: valid, $(/usr/bin/python3 tests/sliders.py file \
    "$out/sliders.html")"

command -v chromium >/dev/null || {
    echo "NOT RUN: what needs Debian's chromium, which is not there" >&2
    exit 1
}
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

# The sliders: the sentence is what `taper` says of the same step, and the first
# is about the page's own taper.
cat >"$out/try.html" <<EOF
<!DOCTYPE html><title>sliders</title><iframe src="report.html"></iframe>
<p id="told"></p><script>onload = () => {
  const box = document.querySelector("iframe").contentDocument
    .querySelector(".try");
  const part = name => box.querySelector("." + name);
  const move = (name, to) => {
    part(name).value = to;
    part(name).dispatchEvent(new Event("input"));
  };
  const first = part("says").textContent;
  move("days", 14), move("cut", 5), move("shape", 0);
  const step = part("says").textContent;
  move("shape", 1);
  const straight = part("says").textContent;
  move("shape", 2);
  document.querySelector("#told").textContent = box.hidden + "|" + first +
    "|" + part("days-now").textContent + part("cut-now").textContent + "|" +
    step + "|" + straight + "|" + part("says").textContent + "|";
}</script>
EOF
browse --dump-dom "file://$(realpath "$out/try.html")"
told=$(sed -n 's/.*id="told">\([^<]*\)<.*/\1/p' "$out/browser.out")
"$program" compare data/demo --athlete back-03 --option 14d-50 \
    --option 14d-0..50 --option 14d-0~50 --csv --quiet >"$out/step.csv"
"$program" taper data/demo --csv --quiet >"$out/tapers.csv"
/usr/bin/python3 tests/page_sliders.py "$told" "$out/step.csv" \
    "$out/tapers.csv"

# The lessons' page with sliders: its figures are those of `simulate`.
/usr/bin/python3 tests/sliders.py ask "$out/sliders.html" "$out/ask.html"
browse --dump-dom "file://$(realpath "$out/ask.html")"
/usr/bin/python3 tests/sliders.py check "$program" "$out/browser.out"

# The lecture: each lesson whole on a screen of either size, two on a sheet of
# paper.
/usr/bin/python3 tests/lecture.py ask lecture.html "$out/class/ask.html"
browse --virtual-time-budget=30000 --dump-dom \
    "file://$(realpath "$out/class/ask.html")"
/usr/bin/python3 tests/lecture.py check "$out/class/lecture.html" \
    "$out/browser.out"
browse --print-to-pdf="$out/lecture.pdf" --no-pdf-header-footer \
    "file://$(realpath "$out/class/lecture.html")"
/usr/bin/python3 tests/lecture.py paper "$out/class/lecture.html" \
    "$out/lecture.pdf"

# A sheet of paper a student, front and back, also where the words are longest.
"$program" lesson all --sheets 2 --model busso-2003 --out "$out/busso" >/dev/null
for folder in class busso; do
    browse --print-to-pdf="$out/sheets.pdf" --no-pdf-header-footer \
        "file://$(realpath "$out/$folder/worksheet.html")"
    sides=$(pdfinfo "$out/sheets.pdf" | sed -n 's/^Pages: *//p')
    [ "$sides" -eq 4 ] || {
        echo "$folder: $sides sides of paper for 2 worksheets" >&2
        exit 1
    }
done
echo "worksheets: a sheet of paper each"

# Barriers, by axe-core (npm) in the page and in the lecture; a copy without
# the policy, which would keep axe out.
axe=${AXE:-$out/node_modules/axe-core/axe.min.js}
[ -f "$axe" ] || npm install --silent --no-audit --no-fund --prefix "$out" \
    axe-core >/dev/null 2>&1 || true
if [ -f "$axe" ]; then
    for name in report class/lecture class/worksheet class/answers \
        sliders; do
        {
            sed '/http-equiv="Content-Security-Policy"/d' "$out/$name.html"
            echo "<script>"
            cat "$axe"
            cat <<'EOF'
</script><script>axe.run().then(found => {
  const told = document.createElement("pre");
  told.id = "axe";
  told.textContent = "axe: " + found.passes.length + " rules passed, " +
    found.violations.length + " broken" + found.violations.map(v => "\n" +
      v.id + ": " + v.help + ": " + v.nodes.length + " places, " +
      v.nodes[0].target).join("");
  document.body.append(told);
})</script>
EOF
        } >"$out/axe.html"
        browse --virtual-time-budget=120000 --dump-dom \
            "file://$(realpath "$out/axe.html")"
        told=$(sed -n '/<pre id="axe"/,/<\/pre>/p' "$out/browser.out" |
            sed 's/<[^>]*>//g')
        echo "$name: ${told:-axe said nothing}"
        case $told in
        *"rules passed, 0 broken"*) ;;
        *) exit 1 ;;
        esac
    done
else
    echo "NOT RUN: axe-core (npm could not install it)"
fi
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
