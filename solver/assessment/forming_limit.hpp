#pragma once
#include <Eigen/Core>
#include <string>

#include "solver/material/sheet_material.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// Forming-limit curve estimated from hardening and thickness: true strain, limit at plane strain and the two
/// branches. Low-carbon steel is what the formula was made for; elsewhere it is an estimate to be replaced by
/// a measured curve.
struct FormingLimit {
  double plane_strain = 0;        ///< major true strain at zero minor strain
  double right_slope = 0.55;      ///< d major / d minor for minor > 0; published figures run from 0.5 to 0.6
  bool thickness_capped = false;  ///< the sheet is thicker than the 3 mm that the formula covers
};

/// FLC0 [% engineering] = (23.3 + 14.13 t) n / 0.21, n not above 0.21, t in mm up to 3; left branch: major =
/// plane strain limit - minor (true). Source: Keeler and Brazier 1977, as quoted by several public documents;
/// n is the uniform true strain of the hardening law.
FormingLimit estimated_limit(const SheetMaterial& material, double thickness);

/// Major limit strain at a minor strain (the curve itself).
double limit_major(const FormingLimit& limit, double minor);

/// Major strain over the limit on the same straight path from the origin; 1 lies on the curve, 0 where
/// nothing stretches.
double limit_share(const FormingLimit& limit, double major, double minor);

/// (n_triangles) shares from the mid-surface strains.
Eigen::VectorXd limit_shares(const FormingLimit& limit, const SheetFields& fields);

}  // namespace halftool::solver
