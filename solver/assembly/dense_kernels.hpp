#pragma once
#include <string>

namespace halftool::solver {

/// What a processor can do.
struct VectorUnits {
  bool avx2 = false;
  bool avx512 = false;

  static VectorUnits here();
};

/// The kernels that the library of dense products should take in place of those that it took, by their name
/// in OPENBLAS_CORETYPE; empty: it took fitting ones. A library older than the processor falls back on
/// kernels without the wide vector units, at less than half the speed.
/// @param taken  as openblas_get_corename tells
std::string fitting_kernels(const std::string& taken, const VectorUnits& units);

/// The same for the library and the processor that the program runs on. The library reads the variable as it
/// is loaded: a program has to start anew.
std::string fitting_kernels();

}  // namespace halftool::solver
