#!/usr/bin/env bash
# Fails on a C++ file that is not formatted as .clang-format says. Exit code 77: no clang-format 14 here.
# usage: format_check.sh [CLANG_FORMAT]
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."

formatter=${1:-$(command -v clang-format-14 || command -v clang-format || true)}
if [[ -z $formatter ]] || ! "$formatter" --version | grep -q 'version 14\.'; then
  echo "clang-format 14 is not installed: nothing checked"
  exit 77
fi
mapfile -t files < <(find mesh solver io tests benchmarks -name '*.hpp' -o -name '*.cpp' | sort)
((${#files[@]} > 0)) || { echo "no C++ files found"; exit 1; }
wrong=()
for file in "${files[@]}"; do
  "$formatter" --dry-run -Werror "$file" 2>/dev/null || wrong+=("$file")
done
if ((${#wrong[@]} > 0)); then
  echo "${#wrong[@]} of ${#files[@]} files are not formatted; mend: $formatter -i ${wrong[*]}"
  exit 1
fi
echo "${#files[@]} files are formatted"
