#!/bin/sh
# From nothing to drawn samples, on Debian or Ubuntu: `sh samples/try.sh`. Sets up what is missing (as root or with sudo), then
# draws every job of this folder into out/, but for the vessel of schedule.toml: fritline issue draws that one. Run again, it draws
# again. Exit code 0: drawn (the samples hold findings that fail, on purpose); another: what is missing is said.
set -eu
cd "$(dirname "$0")/.."
sh .ci/setup
for job in samples/*.toml; do
    grep -q "^\[\[pane\]\]" "$job" || continue # a file of defaults is no job, and a schedule is issued
    echo "drawing $job"
    code=0
    .venv/bin/fritline draw "$job" -o "out/$(basename "$job" .toml)" || code=$?
    [ "$code" -le 1 ] || exit "$code" # 1: drawn, and something fails
done
echo "The sheets are in $(pwd)/out; open one of the .svg files in a browser."
