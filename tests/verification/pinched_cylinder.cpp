#include "tests/verification/pinched_cylinder.hpp"

#include <algorithm>
#include <array>

#include "tests/support/blank_of.hpp"
#include "tests/support/followed_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"
#include "tests/verification/cylinder_octant.hpp"

namespace halftool::test {
namespace {

constexpr std::array<LoadPoint, 23> kTable{
    {{0.05, {9.561, -0.233, 0}},   {0.075, {15.648, -0.922, 0}}, {0.1, {23.164, -2.391, 0}},
     {0.125, {29.375, -3.872, 0}}, {0.15, {36.208, -2.154, 0}},  {0.175, {51.499, 6.792, 0}},
     {0.2, {56.373, 10.448, 0}},   {0.25, {61.877, 14.905, 0}},  {0.3, {65.498, 17.979, 0}},
     {0.35, {68.229, 20.365, 0}},  {0.4, {70.424, 22.321, 0}},   {0.45, {72.204, 23.916, 0}},
     {0.5, {73.79, 25.381, 0}},    {0.55, {75.139, 26.631, 0}},  {0.6, {76.331, 27.735, 0}},
     {0.65, {77.472, 28.843, 0}},  {0.7, {78.451, 29.772, 0}},   {0.75, {79.339, 30.604, 0}},
     {0.8, {80.218, 31.471, 0}},   {0.85, {81.045, 32.299, 0}},  {0.9, {81.766, 32.989, 0}},
     {0.95, {82.435, 33.619, 0}},  {1, {83.102, 34.272, 0}}}};

constexpr double kLength = 200;
constexpr double kForce = 12000;
constexpr double kLongestStep = 2;  // of the force's point [mm]

LoadCurve pinch(const MeshChoice& choice, double most_share) {
  const mesh::Blank blank = cylinder_octant({100, kLength, 1}, choice);
  solver::SheetModel model = elastic_model(blank, 30e3, 0.3, choice.bows);
  hold(model, {symmetry_plane(0), symmetry_plane(1), symmetry_plane(2), diaphragm(1, kLength / 2)});
  FollowedSheet sheet(model, node_force(model, 0, {0, 0, -kForce / 4}), kLongestStep,
                      model.equations.of_node(0, 2));
  LoadCurve curve;
  for (const LoadPoint& row : kTable) {
    if (row.share > most_share) break;
    sheet.load_to(row.share);
    curve.push_back({row.share, {-sheet.displacement(0).z(), sheet.displacement(choice.divisions).x()}});
  }
  return curve;
}

std::size_t rows_to(double share) {
  return static_cast<std::size_t>(std::count_if(
      kTable.begin(), kTable.end(), [share](const LoadPoint& row) { return row.share <= share; }));
}

}  // namespace

CurveProblem pinched_cylinder(double most_share) {
  return {LoadTable(kTable).first(rows_to(most_share)),
          {"displacement at A", "displacement at B"},
          [most_share](const MeshChoice& choice) { return pinch(choice, most_share); }};
}

bool near_standstill(double share) {
  return share > 0.14 && share < 0.18;
}

}  // namespace halftool::test
