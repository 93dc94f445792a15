#!/bin/sh
# The Debian package: lintian finds no error, it installs, runs the demo, and
# goes without a trace. Needs root, for dpkg.
#
#   deb.sh PACKAGE
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
package=$1
lintian --fail-on error --suppress-tags bad-distribution-in-changes-file "$package"
echo "lintian: no error"
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
dpkg -r peakward >/dev/null
if [ -e /usr/bin/peakward ] || [ -e /usr/share/peakward ]; then
    echo "dpkg -r leaves files behind" >&2
    exit 1
fi
echo "deb: installs, runs the demo, goes without a trace"
