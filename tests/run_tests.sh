#!/usr/bin/env bash
# Installs what is missing, builds everything with warnings as errors and runs all tests.
# usage: tests/run_tests.sh [CTEST_OPTION...]   (for instance -L unit)
set -euo pipefail
# shellcheck source=.ci/setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/../.ci/setup.sh"

install_missing
build ci

say "Testing"
report=$halftool_root/.build/ci/tests.xml
rm -f "$report"
code=0
ctest --preset ci --parallel "$(nproc)" --output-junit "$report" "$@" || code=$?
[[ -s $report ]] || fail "the tests did not run"

# The head of CTest's report: <testsuite ... tests="N" failures="N" disabled="N" skipped="N" ...>
count() { sed -n '/<testsuite/,/>/p' "$report" | grep -o -m 1 "\\b$1=\"[0-9]*\"" | tr -cd '0-9'; }
skipped=$(count skipped)
failed=$(count failures)
passed=$(($(count tests) - failed - skipped))
((code == 0 && passed > 0)) || code=1
echo "$passed passed, $failed failed, $skipped skipped"
exit "$code"
