#include "solver/assembly/dense_kernels.hpp"

#include <algorithm>
#include <array>

extern "C" char* openblas_get_corename();  // no C header of this name is sure to be the right one

namespace halftool::solver {

VectorUnits VectorUnits::here() {
  VectorUnits units;
#if defined(__x86_64__)
  units.avx2 = __builtin_cpu_supports("avx2") != 0 && __builtin_cpu_supports("fma") != 0;
  units.avx512 = units.avx2 && __builtin_cpu_supports("avx512f") != 0 &&
                 __builtin_cpu_supports("avx512dq") != 0 && __builtin_cpu_supports("avx512bw") != 0 &&
                 __builtin_cpu_supports("avx512vl") != 0;
#endif
  return units;
}

std::string fitting_kernels(const std::string& taken, const VectorUnits& units) {
  // Of processors that have no AVX; a processor that has AVX2 gets them where the library does not know it.
  constexpr std::array<const char*, 8> kNarrow = {"Prescott", "Core2",        "Penryn",    "Nehalem",
                                                  "Opteron",  "Opteron_SSE3", "Barcelona", "Generic"};
  if (!units.avx2 || std::find(kNarrow.begin(), kNarrow.end(), taken) == kNarrow.end()) return "";
  return units.avx512 ? "SkylakeX" : "Haswell";
}

std::string fitting_kernels() {
  const char* taken = openblas_get_corename();
  return taken == nullptr ? "" : fitting_kernels(taken, VectorUnits::here());
}

}  // namespace halftool::solver
