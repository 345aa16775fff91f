#!/usr/bin/env bash
# Runs clang-tidy over mesh, solver and io (slow: minutes). Needs a configured build and the package clang-tidy.
# usage: tests/architecture/tidy.sh [BUILD_FOLDER [FILE...]]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

build=${1:-.build/release}
shift || true
command -v clang-tidy >/dev/null || { echo "clang-tidy is not installed" >&2; exit 1; }
[[ -f $build/compile_commands.json ]] || { echo "$build holds no compile_commands.json: configure first" >&2; exit 1; }
files=("$@")
((${#files[@]} > 0)) || mapfile -t files < <(find mesh solver io -name '*.cpp' | sort)
# The precompiled header of the tests is GCC's: clang-tidy reads the headers themselves.
database=$(mktemp -d)
trap 'rm -rf "$database"' EXIT
sed -E 's/ -Winvalid-pch| -include [^ ]*cmake_pch\.hxx//g' "$build/compile_commands.json" >"$database/compile_commands.json"
printf '%s\0' "${files[@]}" |
  xargs --null --max-args=1 --max-procs="$(nproc)" clang-tidy --quiet --extra-arg=-Wno-unknown-warning-option --warnings-as-errors='*' -p "$database"
echo "${#files[@]} files are tidy"
