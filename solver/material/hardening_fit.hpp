#pragma once
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"
#include "solver/material/tensile_curve.hpp"

namespace halftool::solver {

/// A hardening law fitted to a flow curve.
struct HardeningFit {
  std::string name;  ///< "Swift"
  Hardening law;
  double rms = 0;          ///< root mean square of law less curve [MPa]
  double greatest = 0;     ///< largest difference, with its sign [MPa]
  double greatest_at = 0;  ///< plastic strain of it
  bool found = false;      ///< the search ended at a law that is sound; else the law says nothing
  std::string remark;      ///< what is to be known of the fit; may be empty
};

/// Fits the laws of Swift, Voce, Hollomon, Ludwik and the blend of Swift's and Voce's, by least squares of
/// the stress with equal weight for each point (Levenberg-Marquardt of Eigen, on logarithms, from several
/// starts). Hollomon's law is held to pass through the first point, for it has no first yield of its own. Of
/// the blend only the share is fitted, between the laws of Swift and Voce that fit best alone: the three
/// cannot all be found from one curve.
/// @param flow  at least 6 points, plastic strain rising, stress > 0
std::vector<HardeningFit> fit_hardening(const std::vector<FlowPoint>& flow);

/// Share of Swift's law in a blend of two given laws, 0 to 1, that fits a flow curve best.
double fit_swift_share(const std::vector<FlowPoint>& flow, const SwiftHardening& swift,
                       const VoceHardening& voce);

}  // namespace halftool::solver
