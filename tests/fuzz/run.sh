#!/bin/sh
# Runs one fuzz target for some seconds from its seeds and all it found before;
# an input that fails is kept in tests/fuzz/found and the run fails.
#
#   run.sh FOLDER TARGET SECONDS
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu
folder=$1 target=$2 seconds=$3
mkdir -p "$folder/corpus-$target" "tests/fuzz/found/$target"
"$folder/fuzz-$target" -max_total_time="$seconds" -timeout=60 -report_slow_units=60 -rss_limit_mb=2048 \
    -max_len=16384 -print_final_stats=1 -close_fd_mask=0 \
    -artifact_prefix="$PWD/tests/fuzz/found/$target/" \
    "$folder/corpus-$target" "tests/fuzz/seeds/$target" \
    "tests/fuzz/found/$target" >"$folder/$target.log" 2>&1 || {
    tail -n 40 "$folder/$target.log"
    exit 1
}
grep -E 'stat::(number_of_executed_units|average_exec_per_sec)|DONE' \
    "$folder/$target.log" | sed "s/^/$target: /"
