#include "tests/verification/twisted_beam.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/linear_response.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kLength = 12;
constexpr double kWidth = 1.1;

// The width lies along y at the clamp, along z at the tip.
Eigen::Vector3d strip(const Eigen::Vector3d& unit) {
  const double angle = 0.5 * std::numbers::pi * unit.x();
  const double across = kWidth * (unit.y() - 0.5);
  return {kLength * unit.x(), across * std::cos(angle), across * std::sin(angle)};
}

}  // namespace

double twisted_beam_reference(TipForce force) {
  return force == TipForce::along_width ? 0.005424535 : 0.001753248;
}

solver::SheetModel twisted_beam(int divisions, unsigned seed) {
  const mesh::SurfaceMesh mesh = mapped(rectangle(1, 1, divisions, divisions / 4, Disorder{seed}), strip);
  solver::SheetModel model = elastic_model(blank_of(mesh, 0.32), 29e6, 0.22);
  hold(model, {clamp([](const Eigen::Vector3d& x) { return x.x() < 1e-9; })});
  return model;
}

Eigen::VectorXd tip_load(const solver::SheetModel& beam, TipForce force) {
  const auto at_tip = [&](int node) { return beam.blank.mesh.nodes(node, 0) > kLength - 1e-9; };
  const Eigen::Vector3d direction =
      force == TipForce::along_width ? Eigen::Vector3d::UnitZ() : Eigen::Vector3d::UnitY();
  return edge_force(beam, border_edges(beam.blank, at_tip), direction / kWidth);
}

double twisted_beam_displacement(TipForce force, int divisions, unsigned seed) {
  const solver::SheetModel beam = twisted_beam(divisions, seed);
  const Eigen::VectorXd load = tip_load(beam, force);
  return LinearResponse(beam, load).along(load);
}

}  // namespace halftool::test
