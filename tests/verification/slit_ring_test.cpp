// Slit annular plate lifted along one edge of the slit, on irregular triangles.
//
// Source: Sze, Liu and Lo, Finite Elem. Anal. Des. 40 (2004) 1551-1569, problem 3.3, table of the lifts of
// the edge's ends; read from public reference data files that quote the paper. Radii 6 and 10, h = 0.03, E =
// 21e6, nu = 0; line load up to 0.8 per length on one edge of the slit, the other is clamped.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace {

using namespace halftool;
using namespace halftool::test;

struct Row {
  double share;  // of the greatest load
  double inner;  // lift of the loaded edge's end at the inner radius
  double outer;
};
constexpr std::array<Row, 23> kTable{
    {{0.025, 1.305, 1.789},  {0.05, 2.455, 3.370},   {0.075, 3.435, 4.720},  {0.10, 4.277, 5.876},
     {0.125, 5.007, 6.872},  {0.15, 5.649, 7.736},   {0.20, 6.725, 9.160},   {0.25, 7.602, 10.288},
     {0.30, 8.340, 11.213},  {0.35, 8.974, 11.992},  {0.40, 9.529, 12.661},  {0.45, 10.023, 13.247},
     {0.50, 10.468, 13.768}, {0.55, 10.876, 14.240}, {0.60, 11.257, 14.674}, {0.65, 11.620, 15.081},
     {0.70, 11.970, 15.469}, {0.75, 12.310, 15.842}, {0.80, 12.642, 16.202}, {0.85, 12.966, 16.550},
     {0.90, 13.282, 16.886}, {0.95, 13.590, 17.212}, {1.00, 13.891, 17.528}}};

struct Lift {
  double worst_inner = 0;  // error over the table, relative
  double worst_outer = 0;
  double inner = 0;  // under the whole load
  double outer = 0;

  [[nodiscard]] double worst() const { return std::max(worst_inner, worst_outer); }
};

// n_radial by 12 n_radial cells, each two triangles.
Lift lift(int n_radial, unsigned seed) {
  const int n_around = 12 * n_radial;
  mesh::Blank blank =
      blank_of(irregular_annulus(6, 10, 2 * std::numbers::pi, n_radial, n_around, seed), 0.03);
  const int first_loaded = n_around * (n_radial + 1);  // nodes run outwards, then around
  clamp_border(blank, [&](int node) { return node <= n_radial; });
  const std::vector<int> edge = border_edges(blank, [&](int node) { return node >= first_loaded; });
  const solver::SheetModel model = elastic_model(blank, 21e6, 0);
  LoadedSheet sheet(model, edge_force(model, edge, {0, 0, 0.8}), 0);
  Lift result;
  for (const Row& row : kTable) {
    sheet.load_to(row.share);
    result.inner = sheet.displacement(first_loaded).z();
    result.outer = sheet.displacement(first_loaded + n_radial).z();
    result.worst_inner = std::max(result.worst_inner, std::abs(result.inner / row.inner - 1));
    result.worst_outer = std::max(result.worst_outer, std::abs(result.outer / row.outer - 1));
  }
  return result;
}

class SlitRing : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, SlitRing, testing::Values(1U, 2U));

// 1536 triangles. Measured: 0.45 and 0.35 percent. Meshes of 12 by 144 cells settle 0.3 percent below the
// table, which itself comes from finite elements; an order of convergence to it would mean little, so that
// the coarse errors and the changes are recorded only.
TEST_P(SlitRing, FollowsTheTableWithinOnePercent) {
  const Lift coarse = lift(4, GetParam());
  const Lift fine = lift(8, GetParam());
  RecordProperty("worst_error_4", std::to_string(coarse.worst()));
  RecordProperty("worst_error_8", std::to_string(fine.worst()));
  RecordProperty("change_inner", std::to_string(fine.inner / coarse.inner - 1));
  RecordProperty("change_outer", std::to_string(fine.outer / coarse.outer - 1));
  EXPECT_LT(fine.worst_inner, 0.01);
  EXPECT_LT(fine.worst_outer, 0.01);
  EXPECT_LT(coarse.worst(), 0.02);
}

}  // namespace
