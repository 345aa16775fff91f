#pragma once
#include <Eigen/Core>
#include <string>
#include <variant>
#include <vector>

#include "solver/material/sheet_material.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// Least major limit strain at plane strain. A metal that necks as it yields bears no stretching at all; with
/// this in place of 0 every path meets the curve, and what stretches is far beyond it.
constexpr double kLeastLimit = 1e-4;

/// Forming-limit curve estimated from hardening and thickness: true strain, limit at plane strain and the two
/// branches. Low-carbon steel is what the formula was made for; elsewhere it is an estimate to be replaced by
/// a measured curve.
struct EstimatedLimit {
  double plane_strain = 0;    ///< major true strain at zero minor strain
  double right_slope = 0.55;  ///< d major / d minor for minor > 0; published figures run from 0.5 to 0.6
  double exponent = 0;        ///< n of the sheet, which counts up to kMostExponent
  double thickness = 0;       ///< of the sheet, which counts up to kMostThickness [mm]

  static constexpr double kMostExponent = 0.21;
  static constexpr double kMostThickness = 3;  ///< [mm], that the formula covers
  [[nodiscard]] bool thickness_capped() const { return thickness > kMostThickness; }
};

/// Measured forming-limit curve: straight between its points in true strain, and nothing beyond them.
struct MeasuredLimit {
  std::vector<Eigen::Vector2d> points;  ///< (minor, major) true strain; minor rises, major > 0
};

/// Imperfection where none is given: that of the worked example 5.5 of Marciniak, Duncan and Hu, Mechanics of
/// Sheet Metal Forming (2002), read second-hand; a roughness of 2.5 um on both faces of 1 mm amounts to as
/// much.
constexpr double kUsualImperfection = 0.005;

/// Forming-limit curve computed from the sheet's yield condition, hardening and rate sensitivity
/// (computed_limit.hpp): straight between its points in true strain, and nothing beyond them.
struct ComputedLimit {
  double imperfection = kUsualImperfection;  ///< by how much the groove is thinner than the sheet, over that
  std::vector<Eigen::Vector2d> points;       ///< (minor, major) true strain, from uniaxial tension on
  double rate_exponent = 0;                  ///< m between groove and sheet; 0: none
  double normal_pressure = 0;                ///< [MPa] on both faces, as between flat tools; 0: none
  std::vector<Eigen::Vector2d> unpressed;    ///< the points without that pressure; empty where there is none
};

/// The lower of both, for metals that the estimate was not made for: it may lie at twice what is computed,
/// and what is computed hangs on an imperfection and a rate sensitivity that are assumed. The estimate alone
/// where the computed curve does not reach.
struct LowerLimit {
  EstimatedLimit estimate;
  ComputedLimit computed;
};

using FormingLimit = std::variant<EstimatedLimit, MeasuredLimit, ComputedLimit, LowerLimit>;

/// Whether the estimate was made for such a metal, as far as its constants tell: a steel by its modulus, of
/// low carbon by a tensile strength of at most 450 MPa (our judgement).
/// @throws std::invalid_argument if the points of a table do not make a curve
bool is_low_carbon_steel(const SheetMaterial& material);

/// FLC0 [% engineering] = (23.3 + 14.13 t) n / 0.21, n not above 0.21, t in mm up to 3; left branch: major =
/// plane strain limit - minor (true). Source: Keeler and Brazier 1977, as quoted by several public documents;
/// n is the uniform true strain of the hardening law. At least kLeastLimit at plane strain.
EstimatedLimit estimated_limit(const SheetMaterial& material, double thickness);

/// Major limit strain at a minor strain (the curve itself); not a number beyond points.
double limit_major(const FormingLimit& limit, double minor);

/// Major strain over the limit on the same straight path from the origin; 1 lies on the curve, 0 where
/// nothing stretches. Not a number where the path passes beside the points of a curve: not judged.
double limit_share(const FormingLimit& limit, double major, double minor);

/// (n_triangles) shares from the mid-surface strains.
Eigen::VectorXd limit_shares(const FormingLimit& limit, const SheetFields& fields);

/// How far along the path from the origin to a point (minor, major) a line of points is first met, as a
/// multiple of the point; infinite if it is missed.
double path_reach(const std::vector<Eigen::Vector2d>& line, const Eigen::Vector2d& point);

}  // namespace halftool::solver
