#include "tests/verification/scordelis_lo.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/linear_response.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kHalfLength = 25;
constexpr double kRadius = 25;
constexpr double kHalfAngle = 40 * std::numbers::pi / 180;

// Along the roof from its middle, then around from the crown.
Eigen::Vector3d roof(const Eigen::Vector3d& unit) {
  const double angle = kHalfAngle * unit.y();
  return {kHalfLength * unit.x(), kRadius * std::sin(angle), kRadius * std::cos(angle)};
}

}  // namespace

double roof_deflection(int divisions, unsigned seed) {
  const mesh::SurfaceMesh mesh = mapped(rectangle(1, 1, divisions, divisions, Disorder{seed}), roof);
  solver::SheetModel model = elastic_model(blank_of(mesh, 0.25), 4.32e8, 0);
  hold(model, {symmetry_plane(0), symmetry_plane(1), diaphragm(0, kHalfLength)});
  const LinearResponse response(model, area_load(model, {0, 0, -90}));
  return -response.displacement(node_at(model, roof({0, 1, 0}))).z();
}

}  // namespace halftool::test
