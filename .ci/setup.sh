# shellcheck shell=bash
# Sourced by cases/run_demo.sh and tests/run_tests.sh: installs the Debian packages that are missing, and builds.

halftool_root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

say() { printf '\n== %s\n' "$*"; }

fail() {
  printf '\nerror: %s\n' "$*" >&2
  exit 1
}

wanted_packages() { sed 's/#.*//' "$halftool_root/.ci/packages" | tr -s '[:space:]' '\n' | sed '/^$/d'; }

missing_packages() {
  local package
  for package in $(wanted_packages); do
    [[ $(dpkg-query --show --showformat='${db:Status-Status} ' "$package" 2>/dev/null) == installed* ]] ||
      echo "$package"
  done
}

# Installs what is missing; with nothing missing it asks neither for root nor for apt.
install_missing() {
  if ! command -v dpkg-query >/dev/null; then
    say "This is not a Debian system: going on with the libraries that are here (their Debian names: .ci/packages)"
    return
  fi
  local missing
  missing=$(missing_packages | tr '\n' ' ')
  [[ -n $missing ]] || return 0
  if ((EUID != 0)) || ! command -v apt-get >/dev/null; then
    fail "these Debian packages are missing: $missing
Install them as root, then run this script again:
  apt-get update && apt-get install --no-install-recommends $missing"
  fi
  say "Installing $missing"
  export DEBIAN_FRONTEND=noninteractive
  local options=(--yes --quiet --option Acquire::Retries=3 --option DPkg::Lock::Timeout=300)
  apt-get "${options[@]}" update || say "The package lists could not be renewed: trying the ones that are here"
  # shellcheck disable=SC2086  # one word a package
  apt-get "${options[@]}" install --no-install-recommends $missing ||
    fail "apt-get could not install the packages; its own message stands above"
}

# Memory that a build may use [MB]: what is free, or what the container is allowed.
usable_memory() {
  local available limit
  available=$(awk '/^MemAvailable:/ {print int($2 / 1024)}' /proc/meminfo 2>/dev/null || true)
  available=${available:-2048}
  limit=$(cat /sys/fs/cgroup/memory.max 2>/dev/null || echo max)
  if [[ $limit != max ]] && ((limit / 1048576 < available)); then available=$((limit / 1048576)); fi
  echo "$available"
}

# Compilers at once: one a core, each with 1.5 GB (the heaviest source files need about 1 GB).
build_jobs() {
  local cores by_memory
  cores=$(nproc)
  by_memory=$(($(usable_memory) / 1536))
  echo $((by_memory < 1 ? 1 : by_memory < cores ? by_memory : cores))
}

# build PRESET [TARGET...]: configures and builds in .build/PRESET.
build() {
  local preset=$1 jobs
  shift
  jobs=$(build_jobs)
  cd "$halftool_root" || fail "no folder $halftool_root"
  say "Building (preset $preset, $jobs at once)"
  cmake --preset "$preset"
  cmake --build --preset "$preset" --parallel "$jobs" ${1:+--target "$@"}
}
