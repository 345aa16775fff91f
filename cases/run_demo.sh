#!/usr/bin/env bash
# Installs what is missing, builds halftool, presses the straight flange and says where its pictures are.
# usage: cases/run_demo.sh [RESULT_FOLDER]   (default: results/straight_flange)
set -euo pipefail
# shellcheck source=.ci/setup.sh
source "$(dirname "${BASH_SOURCE[0]}")/../.ci/setup.sh"

results=$(realpath --canonicalize-missing "${1:-$halftool_root/results/straight_flange}")
install_missing
build release halftool

say "Pressing cases/straight_flange/case.toml"
code=0
"$halftool_root/.build/release/io/halftool" press "$halftool_root/cases/straight_flange/case.toml" \
  --out "$results" --replace || code=$?
((code <= 1)) || fail "halftool ended with exit code $code; what it reached is in $results"

# 1: the run is complete and says that the sheet passed a limit.
mapfile -t pictures < <(find "$results" -name '*.png' | sort)
((${#pictures[@]} > 0)) || fail "the run is complete but no picture was made; see the lines above and $results"
say "Results: $results"
printf '  picture: %s\n' "${pictures[@]}"
