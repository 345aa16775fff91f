#include "tests/verification/slit_ring.hpp"

#include <array>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/followed_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr std::array<LoadPoint, 23> kTable{
    {{0.025, {1.305, 1.789, 0}}, {0.05, {2.455, 3.37, 0}},   {0.075, {3.435, 4.72, 0}},
     {0.1, {4.277, 5.876, 0}},   {0.125, {5.007, 6.872, 0}}, {0.15, {5.649, 7.736, 0}},
     {0.2, {6.725, 9.16, 0}},    {0.25, {7.602, 10.288, 0}}, {0.3, {8.34, 11.213, 0}},
     {0.35, {8.974, 11.992, 0}}, {0.4, {9.529, 12.661, 0}},  {0.45, {10.023, 13.247, 0}},
     {0.5, {10.468, 13.768, 0}}, {0.55, {10.876, 14.24, 0}}, {0.6, {11.257, 14.674, 0}},
     {0.65, {11.62, 15.081, 0}}, {0.7, {11.97, 15.469, 0}},  {0.75, {12.31, 15.842, 0}},
     {0.8, {12.642, 16.202, 0}}, {0.85, {12.966, 16.55, 0}}, {0.9, {13.282, 16.886, 0}},
     {0.95, {13.59, 17.212, 0}}, {1, {13.891, 17.528, 0}}}};

LoadCurve lift(const MeshChoice& choice) {
  const int n_radial = choice.divisions;
  const int n_around = 12 * n_radial;
  mesh::Blank blank =
      blank_of(annulus(6, 10, 2 * std::numbers::pi, n_radial, n_around, Disorder{choice.seed}), 0.03);
  const int first_loaded = n_around * (n_radial + 1);  // nodes run outwards, then around
  clamp_border(blank, [&](int node) { return node <= n_radial; });
  const std::vector<int> edge = border_edges(blank, [&](int node) { return node >= first_loaded; });
  const solver::SheetModel model = elastic_model(blank, 21e6, 0, choice.bows);
  FollowedSheet sheet(model, edge_force(model, edge, {0, 0, 0.8}), 1);
  LoadCurve curve;
  for (const LoadPoint& row : kTable) {
    sheet.load_to(row.share);
    curve.push_back(
        {row.share, {sheet.displacement(first_loaded).z(), sheet.displacement(first_loaded + n_radial).z()}});
  }
  return curve;
}

}  // namespace

CurveProblem slit_ring() {
  return {kTable, {"lift of the inner end", "lift of the outer end"}, lift};
}

}  // namespace halftool::test
