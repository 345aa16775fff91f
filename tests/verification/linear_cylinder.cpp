#include "tests/verification/linear_cylinder.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/linear_response.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kRadius = 300;
constexpr double kHalfLength = 300;

// Along the cylinder from its middle, then around from the force.
Eigen::Vector3d wall(const Eigen::Vector3d& unit) {
  const double angle = 0.5 * std::numbers::pi * unit.y();
  return {kHalfLength * unit.x(), kRadius * std::sin(angle), kRadius * std::cos(angle)};
}

}  // namespace

double pinched_cylinder_deflection(int divisions, unsigned seed) {
  const mesh::SurfaceMesh mesh = mapped(rectangle(1, 1, divisions, divisions, Disorder{seed}), wall);
  solver::SheetModel model = elastic_model(blank_of(mesh, 3), 3e6, 0.3);
  hold(model, {symmetry_plane(0), symmetry_plane(1), symmetry_plane(2), diaphragm(0, kHalfLength)});
  const int pole = node_at(model, wall({0, 0, 0}));
  const LinearResponse response(model, point_load(model, pole, {0, 0, -0.25}));
  return -response.displacement(pole).z();
}

}  // namespace halftool::test
