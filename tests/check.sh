#!/bin/sh
# What `make check` runs once it has built: floors, layout, whether slips for `make
# mutants` are where they were, and all suites in their quick form, whose summary
# ends the output.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
build=$1
tests/check_floors.sh
make --no-print-directory format-check
echo "layout: clang-format agrees"
# Each table of tests is listed in suites.def.
sed -n 's/^const TestSuite suite_\(.*\) = .*/SUITE(\1)/p' tests/*.c tests/*/*.c |
    sort >"$build/tables"
grep '^SUITE' tests/suites.def | sort | diff "$build/tables" - || {
    echo "tests/suites.def does not list the tables of tests that there are" >&2
    exit 1
}
/usr/bin/python3 tests/mutants.py --check
PEAKWARD_QUICK=1 PEAKWARD=$build/peakward \
    tests/suites.sh "$build/run_tests" "$build/logs"
