#pragma once
#include <cmath>
#include <limits>
#include <vector>

#include "mesh/screens/concave_edges.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// A hollow radius of the tool half and the pressure that the formula asks for to fill it.
struct RadiusToFill {
  mesh::ConcaveRadius hollow;
  double needed = 0;  ///< [MPa], fill_pressure of hand_formulas.hpp
};

/// How far the sheet has come into a hollow radius.
struct Filling {
  double stand_off = std::numeric_limits<double>::infinity();  ///< of its tool face, in the last state [mm]
  double pressure = std::numeric_limits<double>::quiet_NaN();  ///< at which it filled [MPa]; NaN: it has not
  bool is_filled = false;                                      ///< in the last state

  template <class Archive>
  void serialize(Archive& archive) {
    archive(stand_off, pressure, is_filled);
  }
};

/// Follows how a sheet fills hollow radii while the pressure rises. A radius counts as filled once the sheet
/// stands off by less than a fiftieth of its thickness in the middle of it (own choice); the pressure between
/// two states is interpolated in its logarithm. It counts anew where the sheet stands off under as much
/// pressure again, and not where it does so under less, as when a further step begins.
class FillTrace {
 public:
  /// @param symmetric_x  only the half at x >= 0 is computed, to which the radii are mirrored; y alike
  FillTrace(std::vector<RadiusToFill> radii, double thickness, bool symmetric_x, bool symmetric_y);

  /// @param fields  the next state under rising or full pressure, on the tool with these radii
  void add(const SheetFields& fields);

  [[nodiscard]] const std::vector<RadiusToFill>& radii() const { return radii_; }
  [[nodiscard]] const std::vector<Filling>& fillings() const { return fillings_; }  ///< one a radius

  /// Of the states added; the radii must be the same.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(fillings_, last_pressure_);
  }

 private:
  std::vector<RadiusToFill> radii_;
  std::vector<Filling> fillings_;
  double thickness_ = 0;
  double last_pressure_ = 0;
};

}  // namespace halftool::solver
