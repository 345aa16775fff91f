#pragma once
#include <cmath>

namespace halftool::solver {

/// A quantity of the sheet at a pressure.
struct AtPressure {
  double pressure = 0;  ///< [MPa]
  double value = 0;
};

/// The pressure at which a quantity reached a value between two states [MPa]: linear in the logarithm of the
/// pressure, for that grows by shares. The later pressure where there is no earlier state to go by.
inline double pressure_between(const AtPressure& before, const AtPressure& after, double value) {
  if (!(before.pressure > 0 && after.pressure > 0) || !std::isfinite(before.value)) return after.pressure;
  const double share = (value - before.value) / (after.value - before.value);
  return before.pressure * std::pow(after.pressure / before.pressure, share);
}

}  // namespace halftool::solver
