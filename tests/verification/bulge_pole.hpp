#pragma once
#include <Eigen/Core>

#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {

/// What holds at the pole of a bulged sheet. Directions: x and y of the flat sheet; area means over the
/// triangles about the pole.
struct Pole {
  Eigen::Vector2d radius;         ///< of the mid-surface along x and y, from the nodes [mm]
  double thickness = 0;           ///< [mm]
  double thickness_strain = 0;    ///< ln(t/t0)
  Eigen::Vector2d strain;         ///< logarithmic, mid-surface sample
  Eigen::Vector2d stress;         ///< Cauchy, mid-surface sample [MPa]
  Eigen::Vector2d stress_mean;    ///< the same, mean over the thickness [MPa]
  double stress_spread = 0;       ///< largest difference of the two directions over their mean
  double normal_stress = 0;       ///< at mid-surface [MPa]
  double equivalent_plastic = 0;  ///< mid-surface sample
  double area_strain = 0;         ///< ln(area/area before) of the same triangles, from their corners alone
};

/// @param size   semi-axes of the opening along x and y [mm]; the pole is the tenth of it about the origin,
///               and its curvature is fitted to the nodes within six tenths (the nodes of a coarse
///               mesh scatter about the dome: a smaller cap would miss by several percent)
Pole pole_of(const solver::SheetModel& model, const solver::SheetState& state, const Eigen::Vector2d& size,
             bool normal_stress = true);

/// Share of the fluid's force that the membrane bears at the pole: (N1/rho1 + N2/rho2)/p over
/// (1 - t/(2 rho1))(1 - t/(2 rho2)), for the fluid wets the smaller, inner face. 1 in equilibrium.
/// N from the stress at mid-surface.
double borne_share(const Pole& pole, double pressure);

/// The same over the cap within three tenths of the opening, from the elements' own forces and curvatures:
/// sum of N : k + M : (k A k) over p times the inner face's area, A the inverse metric. What is left of the
/// moments' second derivative is small over so large a cap; single triangles are uneven.
/// @param before  the accepted state that the increment to `state` started from: its thickness is what the
///                layers stood at
double cap_balance(const solver::SheetModel& model, const solver::SheetState& before,
                   const solver::SheetState& state, const Eigen::Vector2d& size, bool normal_stress = true);

}  // namespace halftool::test
