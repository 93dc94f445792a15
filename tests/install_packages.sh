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
log=$(mktemp)
trap 'rm -f "$log"' EXIT
# Waits, 10 min at most, while others hold the locks: of dpkg by itself, of the
# lists by trying again.
apt() {
    waited=0
    until $sudo env DEBIAN_FRONTEND=noninteractive apt-get -qq \
        -o DPkg::Lock::Timeout=600 "$@" >"$log" 2>&1; do
        if [ $waited -ge 600 ] || ! grep -q "Could not get lock" "$log"; then
            cat "$log" >&2
            exit 1
        fi
        sleep 5
        waited=$((waited + 5))
    done
}
apt update
# shellcheck disable=SC2086 # one word a package
apt install -y --no-install-recommends $missing
