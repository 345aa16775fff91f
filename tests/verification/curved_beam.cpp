#include "tests/verification/curved_beam.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/linear_response.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kInner = 4.12;
constexpr double kOuter = 4.32;
constexpr double kWidth = kOuter - kInner;
constexpr double kThickness = 0.1;
constexpr double kModulus = 1e7;
constexpr double kPoisson = 0.25;
constexpr double kQuarterTurn = 0.5 * std::numbers::pi;

}  // namespace

double curved_beam_handbook(RingForce force) {
  return force == RingForce::in_plane ? 0.08734 : 0.5022;
}

double curved_beam_reference(RingForce force) {
  if (force == RingForce::in_plane) {
    const double a = kInner * kInner;
    const double b = kOuter * kOuter;
    const double section = a - b + (a + b) * std::log(kOuter / kInner);
    return std::numbers::pi * (a + b) / (kModulus * section * kThickness);
  }
  const double radius = 0.5 * (kInner + kOuter);
  const double cube = kWidth * std::pow(kThickness, 3);
  const double bending = kModulus * cube / 12;
  const double torsion = kModulus / (2 * (1 + kPoisson)) * cube / 3;
  return std::pow(radius, 3) * (0.5 * kQuarterTurn / bending + (1.5 * kQuarterTurn - 2) / torsion);
}

double curved_beam_displacement(RingForce force, int divisions, unsigned seed) {
  const mesh::SurfaceMesh mesh =
      annulus(kInner, kOuter, kQuarterTurn, divisions / 8, divisions, Disorder{seed});
  solver::SheetModel model = elastic_model(blank_of(mesh, kThickness), kModulus, kPoisson);
  hold(model, {clamp([](const Eigen::Vector3d& x) { return x.y() < 1e-9; })});
  const std::vector<int> tip =
      border_edges(model.blank, [&](int node) { return mesh.nodes(node, 0) < 1e-9; });
  const Eigen::Vector3d direction =
      force == RingForce::in_plane ? Eigen::Vector3d::UnitY() : Eigen::Vector3d::UnitZ();
  const Eigen::VectorXd load = edge_force(model, tip, direction / kWidth);
  return LinearResponse(model, load).along(load);
}

}  // namespace halftool::test
