#pragma once
#include <Eigen/Core>

#include "solver/material/moving_yield.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// Two surfaces after Yoshida and Uemori (2002). The yield surface has the size Y and its centre at a + beta:
///   d a    = C (A e - sqrt(A/|a|) a) d eps_p,  A = B + R - Y, |.| the equivalent stress
///   d beta = m (b e - beta) d eps_p,           centre of the bounding surface
///   d R    = m (R_sat - R) d eps_p             while beta pushes at the surface of stagnation |beta - q| =
///   r,
/// else 0; that surface grows by dr = h d|beta - q|, and q follows. Directions as in backstress.hpp; under
/// von Mises these are the published equations. Where b is 0, beta never moves and R grows without
/// stagnation.
///
/// In an increment beta and R are exact for a constant direction, and R grows for the share of the straight
/// way of beta that lies beyond r. a is integrated implicitly at the final A, in two steps and in four,
/// extrapolated.
///
/// State: a, beta, q (3 values each), r, R.
class YoshidaUemoriLaw {
 public:
  explicit YoshidaUemoriLaw(const YoshidaUemoriHardening& law) : law_(law) {}

  [[nodiscard]] static int n_values() { return 11; }
  [[nodiscard]] static Eigen::Vector3d centre(const double* state) {
    return Eigen::Map<const Eigen::Vector3d>(state) + Eigen::Map<const Eigen::Vector3d>(state + 3);
  }
  [[nodiscard]] double yield_size(double /*equivalent_plastic_strain*/) const { return law_.yield; }

  /// @param state  of the last accepted increment
  [[nodiscard]] HardenedStress at(const QuadraticYield& yield, double committed, const double* state,
                                  const Eigen::Vector3d& e, double g) const;
  /// State after the increment.
  void carry(const QuadraticYield& yield, const double* state, const Eigen::Vector3d& e, double g,
             double* next) const;

 private:
  YoshidaUemoriHardening law_;
};

}  // namespace halftool::solver
