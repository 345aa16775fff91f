#include "tests/verification/pinched_hemisphere.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/followed_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr std::array<LoadPoint, 20> kTable{
    {{0.05, {0.855, 0.955, 0}}, {0.1, {1.499, 1.84, 0}},  {0.15, {1.969, 2.604, 0}}, {0.2, {2.321, 3.261, 0}},
     {0.25, {2.596, 3.833, 0}}, {0.3, {2.819, 4.339, 0}}, {0.35, {3.002, 4.79, 0}},  {0.4, {3.158, 5.196, 0}},
     {0.45, {3.291, 5.565, 0}}, {0.5, {3.406, 5.902, 0}}, {0.55, {3.508, 6.212, 0}}, {0.6, {3.598, 6.497, 0}},
     {0.65, {3.678, 6.761, 0}}, {0.7, {3.75, 7.006, 0}},  {0.75, {3.816, 7.234, 0}}, {0.8, {3.875, 7.448, 0}},
     {0.85, {3.929, 7.647, 0}}, {0.9, {3.979, 7.835, 0}}, {0.95, {4.025, 8.011, 0}}, {1, {4.067, 8.178, 0}}}};

constexpr double kRadius = 10;
constexpr double kForce = 400;

// Unit square: along the first coordinate around, along the second from the hole to the rim.
Eigen::Vector3d on_sphere(const Eigen::Vector3d& at) {
  const double right = std::numbers::pi / 2;
  const double around = right * at.x();
  const double from_pole = right * (0.2 + 0.8 * at.y());
  return kRadius * Eigen::Vector3d(std::sin(from_pole) * std::cos(around),
                                   std::sin(from_pole) * std::sin(around), std::cos(from_pole));
}

LoadCurve pinch(const MeshChoice& choice) {
  const int n = choice.divisions;
  mesh::Blank blank = blank_of(mapped(rectangle(1, 1, n, n, Disorder{choice.seed}), on_sphere), 0.04);
  blank.rolling_direction = Eigen::Vector2d(-1, 1).normalized();  // nowhere normal to the sheet
  solver::SheetModel model = elastic_model(blank, 6.825e7, 0.3, choice.bows);
  const int pulled = n * (n + 1);
  const int pushed = pulled + n;
  const Eigen::Vector3d rim = blank.mesh.nodes.row(pulled);
  hold(model, {symmetry_plane(0), symmetry_plane(1),
               guide([rim](const Eigen::Vector3d& x) { return (x - rim).norm() < 1e-9; }, 2)});
  const Eigen::VectorXd load =
      node_force(model, pulled, {kForce / 2, 0, 0}) + node_force(model, pushed, {0, -kForce / 2, 0});
  FollowedSheet sheet(model, load, 0.3);
  LoadCurve curve;
  for (const LoadPoint& row : kTable) {
    sheet.load_to(row.share);
    curve.push_back({row.share, {sheet.displacement(pulled).x(), -sheet.displacement(pushed).y()}});
  }
  return curve;
}

}  // namespace

CurveProblem pinched_hemisphere() {
  return {kTable, {"displacement outwards", "displacement inwards"}, pinch};
}

}  // namespace halftool::test
