#!/bin/sh
# The Debian package: lintian finds nothing, it installs, runs the demo, and
# goes without a trace. Needs root, for dpkg.
#
#   deb.sh PACKAGE
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
package=$1
lintian --allow-root --fail-on error,warning --suppress-tags bad-distribution-in-changes-file "$package"
echo "lintian: no error, no warning"
[ ! -e /usr/bin/peakward ] || {
    echo "deb.sh: peakward is installed here already" >&2
    exit 1
}
dpkg -i "$package" >/dev/null
out=$(mktemp -d)
trap 'rm -rf "$out"; dpkg -r peakward >/dev/null 2>&1 || true' EXIT
(
    cd "$out"
    /usr/bin/peakward taper /usr/share/peakward/data/demo --athlete wing-07 \
        --quiet --out pictures >/dev/null
    [ -s pictures/wing-07-map.svg ]
    man -w peakward-taper >/dev/null
)
dpkg -L peakward >"$out/files"
dpkg -P peakward >/dev/null
# Every file of the package is gone, and every folder that was its own.
while read -r path; do
    if [ -f "$path" ] || { [ -d "$path" ] && [ "${path#*peakward}" != "$path" ]; }; then
        echo "dpkg -P leaves $path" >&2
        exit 1
    fi
done <"$out/files"
echo "deb: installs, runs the demo, goes without a trace"
