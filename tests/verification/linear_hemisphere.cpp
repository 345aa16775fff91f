#include "tests/verification/linear_hemisphere.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/linear_response.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kRadius = 10;
constexpr double kThickness = 0.04;
constexpr double kQuarterTurn = 0.5 * std::numbers::pi;
constexpr double kHoleEdge = 72 * std::numbers::pi / 180;  // latitude

// Around from the outward force, then up from the equator to the hole.
Eigen::Vector3d around(const Eigen::Vector3d& unit) {
  const double longitude = kQuarterTurn * unit.x();
  const double latitude = kHoleEdge * unit.y();
  return kRadius * Eigen::Vector3d(std::cos(latitude) * std::cos(longitude),
                                   std::cos(latitude) * std::sin(longitude), std::sin(latitude));
}

// Barycentric coordinates to the octant, equal angles along its sides.
Eigen::Vector3d octant(const Eigen::Vector3d& unit) {
  const Eigen::Vector3d shares(unit.x(), unit.y(), 1 - unit.x() - unit.y());
  return kRadius * (kQuarterTurn * shares.array()).sin().matrix().normalized();
}

}  // namespace

double hemisphere_displacement(bool hole, int divisions, unsigned seed) {
  const Disorder disorder{seed};
  const mesh::SurfaceMesh mesh = hole ? mapped(rectangle(1, 1, divisions, divisions, disorder), around)
                                      : mapped(unit_triangle(divisions, disorder), octant);
  solver::SheetModel model = elastic_model(blank_of(mesh, kThickness), 6.825e7, 0.3);
  const int pulled = node_at(model, {kRadius, 0, 0});
  const int pushed = node_at(model, {0, kRadius, 0});
  const auto at_pulled = [](const Eigen::Vector3d& x) { return std::abs(x.x() - kRadius) < 1e-9; };
  hold(model, {symmetry_plane(0), symmetry_plane(1), {at_pulled, {false, false, true}, false, false}});
  const LinearResponse response(model,
                                point_load(model, pulled, {1, 0, 0}) + point_load(model, pushed, {0, -1, 0}));
  return 0.5 * (response.displacement(pulled).x() - response.displacement(pushed).y());
}

}  // namespace halftool::test
