#!/bin/sh
# Builds a Debian package from what `make install` puts into a folder.
#
#   deb.sh BUILD VERSION      leaves BUILD/peakward_VERSION_ARCH.deb
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
build=$1 version=$2
root=$(realpath -m "$build/deb")
arch=$(dpkg --print-architecture)
who='peakward maintainers <maintainers@peakward.invalid>'
rm -rf "$root"
make --no-print-directory -s install BUILD="$build" DESTDIR="$root" PREFIX=/usr
strip --strip-unneeded "$root/usr/bin/peakward"
gzip -9n "$root"/usr/share/man/man?/*.[157]

doc=$root/usr/share/doc/peakward
install -d "$doc" "$root/DEBIAN"
cat >"$doc/copyright" <<END
Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/

Files: *
Copyright: 2026 peakward maintainers
License: GPL-3+
 On Debian systems the full text of the GNU General Public License version 3
 is in /usr/share/common-licenses/GPL-3.
END
# The stamp is that of the last change, so that the same sources give the same
# package.
stamp=$(date -R -u -d "@${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || echo 0)}")
cat >"$root/changelog" <<END
peakward ($version) unstable; urgency=medium

  * Built from the sources.

 -- $who  $stamp
END
gzip -9nc "$root/changelog" >"$doc/changelog.gz"
rm "$root/changelog"
find "$root" -type d -exec chmod 755 {} +
find "$root/usr/share" -type f -exec chmod 644 {} +

# The packages of the libraries that the linker put in, with the least versions
# that have the symbols (dpkg-dev).
mkdir "$root/debian"
printf 'Source: peakward\n\nPackage: peakward\nArchitecture: any\n' \
    >"$root/debian/control"
libraries=$(cd "$root" && dpkg-shlibdeps -O usr/bin/peakward 2>"$root/said" |
    sed -n 's/^shlibs:Depends=//p') || {
    cat "$root/said" >&2
    exit 1
}
rm -r "$root/debian" "$root/said"
[ -n "$libraries" ] || {
    echo "deb.sh: no package of the libraries can be told" >&2
    exit 1
}

cat >"$root/DEBIAN/control" <<END
Package: peakward
Version: $version
Architecture: $arch
Maintainer: $who
Installed-Size: $(du -sk "$root/usr" | cut -f1)
Depends: $libraries, gnuplot-nox | gnuplot, fonts-dejavu-core
Section: science
Priority: optional
Description: tapers for athletes from their training log
 Computes fitness, fatigue and readiness from a training log by an impulse
 response model of the athlete with its uncertainty, compares tapers before a
 competition, finds the best practical one, and writes the plan, pictures, a
 page to print and a calendar.
END
SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || echo 0)} \
    dpkg-deb --root-owner-group --build "$root" \
    "$build/peakward_${version}_$arch.deb"
