#!/bin/sh
# Installs the Debian packages named, those that are missing; asks the package
# database first, so that a second run is instant and needs no network. On
# other systems it names what is needed and goes on.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "peakward: this is not Debian; it needs what these packages hold: $*"
    exit 0
fi
missing=""
for package in "$@"; do
    state=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || :)
    [ "$state" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0
sudo=""
if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null 2>&1; then
        echo "peakward: these packages are missing; install them as root:$missing" >&2
        exit 1
    fi
    sudo=sudo
fi
echo "peakward: installing$missing"
$sudo env DEBIAN_FRONTEND=noninteractive apt-get update -qq
# shellcheck disable=SC2086 # one word a package
$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq \
    --no-install-recommends $missing >/dev/null
