#include "solver/assessment/flange_estimate.hpp"

#include <cmath>
#include <limits>
#include <map>

#include "solver/assessment/bend_limit.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "solver/assessment/wrinkling.hpp"

namespace halftool::solver {
namespace {

// A flange round a corner whose axis is a point: of its length.
constexpr double kSharpestAxis = 0.05;
constexpr double none = std::numeric_limits<double>::quiet_NaN();

std::string name_of(const mesh::ToolBend& bend) {
  const Eigen::Vector2d& side = bend.outward;
  if (side.isZero()) return bend.plan_curvature < 0 ? "bend round an opening" : "bend all round";
  if (std::abs(side.x()) >= std::abs(side.y())) return side.x() > 0 ? "bend at +x" : "bend at -x";
  return side.y() > 0 ? "bend at +y" : "bend at -y";
}

void number_repeated_names(std::vector<FlangeEstimate>& flanges) {
  std::map<std::string, int> count, next;
  for (const FlangeEstimate& flange : flanges) ++count[flange.name];
  for (FlangeEstimate& flange : flanges)
    if (count[flange.name] > 1) flange.name += " (" + std::to_string(++next[flange.name]) + ")";
}

/// Radius in plan of the axis of a curved bend [mm], see ToolBend::plan_curvature.
double axis_radius(const mesh::ToolBend& bend) {
  const double line = 1 / std::abs(bend.plan_curvature);
  return bend.plan_curvature < 0 ? line + bend.radius : std::max(0.0, line - bend.radius);
}

/// The edge of the longest part of a curved flange: its radii and the true strain along it.
void estimate_edge(FlangeEstimate& flange, double middle_radius) {
  const mesh::ToolBend& bend = flange.bend;
  flange.edge_strain = none;
  if (bend.plan_curvature == 0 || !bend.has_flange()) return;
  flange.axis_radius = axis_radius(bend);
  const CurvedFlange curved{flange.axis_radius, bend.plan_curvature < 0, bend.longest_overhang, middle_radius,
                            bend.turn};
  flange.edge_radii = flange_edge_radii(curved);
  flange.edge_strain = flange_edge_strain(curved);
}

/// Of the axis of a bend in plan [1/mm], > 0: rounded outward; < 0: round an
/// opening, which the sheet does not overfill.
double axis_curvature(const mesh::ToolBend& bend) {
  if (bend.plan_curvature == 0) return 0;
  if (bend.plan_curvature < 0) return -1 / std::max(axis_radius(bend), bend.overhang);
  return 1 / std::max(axis_radius(bend), kSharpestAxis * bend.overhang);
}

FlangeEstimate estimate_flange(const mesh::ToolBend& bend, const ScreenLoad& load) {
  const double t = load.thickness;
  const double middle_radius = bend.radius + t / 2;
  FlangeEstimate flange;
  flange.bend = bend;
  flange.name = name_of(bend);
  flange.axis_curvature = axis_curvature(bend);
  flange.fibre_strain = bend_limit_strain(bend.radius / t);
  flange.leg = bend.has_flange() ? flange_leg(bend.overhang, middle_radius, bend.turn) : none;
  flange.fold_pressure =
      bend.has_flange() ? fold_pressure(proof_stress(load), t, bend.overhang, flange.axis_curvature) : none;
  estimate_edge(flange, middle_radius);
  flange.edge_thinning = -std::expm1(-flange.edge_strain / (1 + mean_r_value(load.sheet.yield)));
  flange.waving_strain =
      flange.edge_strain < 0 ? edge_waving_strain(load.sheet.poissons_ratio, t, bend.longest_overhang) : none;
  return flange;
}

}  // namespace

std::vector<FlangeEstimate> estimate_flanges(const std::vector<mesh::ToolBend>& bends, const ScreenLoad& load,
                                             double scatter) {
  std::vector<FlangeEstimate> flanges;
  std::map<long, std::optional<BendSpringback>> of_radius;  // by micrometres
  for (const mesh::ToolBend& bend : bends) {
    flanges.push_back(estimate_flange(bend, load));
    const long key = std::lround(1000 * bend.radius);
    const auto known = of_radius.find(key);
    flanges.back().springback =
        known != of_radius.end() ? known->second
                                 : of_radius[key] = bend_springback(
                                       load.sheet, load.thickness, bend.radius + load.thickness / 2, scatter);
  }
  number_repeated_names(flanges);
  return flanges;
}

const FlangeEstimate* nearest_flange(const std::vector<FlangeEstimate>& flanges,
                                     const Eigen::Vector2d& plan) {
  const FlangeEstimate* nearest = nullptr;
  double distance = std::numeric_limits<double>::infinity();
  for (const FlangeEstimate& flange : flanges)
    for (const Eigen::Vector2d& point : flange.bend.line)
      if ((point - plan).norm() < distance) {
        distance = (point - plan).norm();
        nearest = &flange;
      }
  return nearest;
}

}  // namespace halftool::solver
