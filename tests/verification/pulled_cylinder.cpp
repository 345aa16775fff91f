#include "tests/verification/pulled_cylinder.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/followed_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"
#include "tests/verification/cylinder_octant.hpp"

namespace halftool::test {
namespace {

constexpr std::array<LoadPoint, 23> kTable{
    {{0.025, {0.819, 0.864, 0.872}}, {0.05, {1.26, 1.471, 1.493}},  {0.075, {1.527, 1.901, 1.946}},
     {0.1, {1.707, 2.217, 2.293}},   {0.15, {1.936, 2.641, 2.792}}, {0.2, {2.079, 2.904, 3.106}},
     {0.25, {2.18, 3.087, 3.31}},    {0.3, {2.257, 3.227, 3.452}},  {0.35, {2.321, 3.342, 3.556}},
     {0.4, {2.376, 3.443, 3.632}},   {0.45, {2.425, 3.539, 3.688}}, {0.5, {2.473, 3.653, 3.718}},
     {0.525, {2.543, 4.061, 3.58}},  {0.55, {2.577, 4.171, 3.518}}, {0.6, {2.618, 4.274, 3.452}},
     {0.65, {2.648, 4.338, 3.41}},   {0.7, {2.672, 4.385, 3.378}},  {0.75, {2.692, 4.423, 3.353}},
     {0.8, {2.71, 4.455, 3.332}},    {0.85, {2.726, 4.483, 3.313}}, {0.9, {2.741, 4.508, 3.297}},
     {0.95, {2.755, 4.53, 3.283}},   {1, {2.768, 4.551, 3.269}}}};

constexpr double kForce = 40000;

constexpr double kLongestStep = 0.1;    // root mean square of the nodes' motions [mm]
constexpr double kHalfThrough = 3.857;  // displacement at B between the rows at 0.5 and 0.525

solver::SheetModel cylinder(const MeshChoice& choice) {
  solver::SheetModel model =
      elastic_model(cylinder_octant({4.953, 10.35, 0.094}, choice), 10.5e6, 0.3125, choice.bows);
  hold(model, {symmetry_plane(0), symmetry_plane(1), symmetry_plane(2)});
  return model;
}

LoadCurve pull(const MeshChoice& choice) {
  const int n = choice.divisions;
  const solver::SheetModel model = cylinder(choice);
  FollowedSheet sheet(model, node_force(model, 0, {0, 0, kForce / 4}), kLongestStep);
  LoadCurve curve;
  for (const LoadPoint& row : kTable) {
    sheet.load_to(row.share);
    curve.push_back(
        {row.share,
         {sheet.displacement(0).z(), -sheet.displacement(n).x(), -sheet.displacement(n * (n + 1) + n).x()}});
  }
  return curve;
}

}  // namespace

CurveProblem pulled_cylinder() {
  return {kTable, {"displacement at A", "displacement at B", "displacement at C"}, pull};
}

bool near_snap(double share) {
  return share > 0.49 && share < 0.56;
}

double snap_share(const MeshChoice& choice) {
  const solver::SheetModel model = cylinder(choice);
  FollowedSheet sheet(model, node_force(model, 0, {0, 0, kForce / 4}), kLongestStep);
  sheet.load_to(0.5);
  while (-sheet.displacement(choice.divisions).x() < kHalfThrough) sheet.load_to(sheet.share() + 0.001);
  return sheet.share();
}

}  // namespace halftool::test
