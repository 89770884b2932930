#!/bin/sh
# From nothing to passed tests, on Debian or Ubuntu: `sh tests/run.sh`. Sets up what is missing (as root or with sudo), then runs
# the tests on all cores; what is typed after it goes to pytest. Exit code: that of pytest; 1 with words where something is missing.
set -eu
cd "$(dirname "$0")/.."
sh .ci/setup test
exec .venv/bin/python -m pytest -q -n auto "$@"
