#include "solver/assessment/bend_limit.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace halftool::solver {
namespace {

// Outer fibre at R + t over the middle at R + t/2.
TEST(BendLimit, IsTheStrainOfTheOuterFibre) {
  for (const double ratio : {0.0, 1.0, 2.5, 10.0})
    EXPECT_NEAR(bend_limit_strain(ratio), std::log((ratio + 1) / (ratio + 0.5)), 1e-14);
}

/// Three triangles of equal area, the middles of the first two a distance apart, the third far away.
SheetFields three_triangles(double distance) {
  SheetFields fields;
  fields.positions.resize(9, 3);
  for (int t = 0; t < 3; ++t) {
    const double x = t == 2 ? 100 : t * distance;
    fields.positions.row(3 * t) << x, 0, 0;
    fields.positions.row(3 * t + 1) << x + 0.3, 0, 0;
    fields.positions.row(3 * t + 2) << x, 0.3, 0;
  }
  fields.triangles.resize(3, 3);
  fields.triangles << 0, 1, 2, 3, 4, 5, 6, 7, 8;
  fields.thickness = Eigen::VectorXd::Ones(3);
  fields.strain_mid.resize(3, 2);
  fields.strain_outer.resize(3, 2);
  fields.strain_inner.resize(3, 2);
  fields.strain_mid << 0.30, 0, 0.05, 0, 0.0, 0;  // stretched, bent outwards, bent inwards
  fields.strain_outer << 0.32, 0, 0.20, 0, -0.1, 0;
  fields.strain_inner << 0.28, 0, -0.1, 0, 0.15, 0;
  return fields;
}

TEST(WorstBend, IsSoughtWhereTheSheetIsBent) {
  auto fields = three_triangles(3);
  const BentFibre worst = worst_bend(bent_faces(fields, {}).judged);
  EXPECT_EQ(worst.triangle, 1);
  EXPECT_NEAR(worst.strain, 0.20, 1e-14);
  fields.strain_outer = fields.strain_inner = fields.strain_mid;
  EXPECT_EQ(worst_bend(bent_faces(fields, {}).judged).triangle, -1);
}

TEST(WorstBend, IsAMeanOverOneThickness) {
  auto fields = three_triangles(0.9);
  fields.strain_mid(0, 0) = 0;
  fields.strain_outer(0, 0) = 0.4;
  EXPECT_NEAR(worst_bend(bent_faces(fields, {}).judged).strain, 0.3, 1e-14);  // of 0.4 and 0.2
  fields = three_triangles(1.1);
  fields.strain_mid(0, 0) = 0;
  fields.strain_outer(0, 0) = 0.4;
  EXPECT_NEAR(worst_bend(bent_faces(fields, {}).judged).strain, 0.4, 1e-14);
}

/// Bends along y round the x axis: rows of squares across the bend, each turned by a share of a right angle
/// more than the one before, of one size and thickness; the outer face strains by `strain(y)`.
template <class Strain>
SheetFields bent_strip(double width, double size, Strain strain) {
  constexpr int kAcross = 6;
  const int n_along = static_cast<int>(std::lround(width / size));
  SheetFields fields;
  std::vector<Eigen::Vector3d> row(1, Eigen::Vector3d::Zero());
  for (int i = 0; i < kAcross; ++i) {
    const double turn = (i + 0.5) / kAcross * std::numbers::pi / 2;
    row.push_back(row.back() + size * Eigen::Vector3d(std::cos(turn), 0, -std::sin(turn)));
  }
  const int n_row = static_cast<int>(row.size());
  fields.positions.resize(n_row * (n_along + 1), 3);
  for (int j = 0; j <= n_along; ++j)
    for (int i = 0; i < n_row; ++i)
      fields.positions.row(n_row * j + i) =
          row[static_cast<std::size_t>(i)] + Eigen::Vector3d(0, j * size, 0);
  const int n = 2 * kAcross * n_along;
  fields.triangles.resize(n, 3);
  fields.thickness = Eigen::VectorXd::Ones(n);
  fields.strain_mid.setZero(n, 2);
  fields.strain_outer.setZero(n, 2);
  fields.strain_inner.setZero(n, 2);
  for (int j = 0, t = 0; j < n_along; ++j)
    for (int i = 0; i < kAcross; ++i)
      for (int half = 0; half < 2; ++half, ++t) {
        const int a = n_row * j + i;
        if (half == 0)
          fields.triangles.row(t) << a, a + 1, a + n_row + 1;
        else
          fields.triangles.row(t) << a, a + n_row + 1, a + n_row;
        fields.strain_outer(t, 0) = strain((j + 0.5) * size);
      }
  return fields;
}

EdgeStrain edge_between(const Eigen::Vector3d& from, const Eigen::Vector3d& to) {
  EdgeStrain edge;
  edge.ends = {from, to};
  return edge;
}

/// The cut edge at y = 0 that crosses the bend.
std::vector<EdgeStrain> crossing_edge(const SheetFields& fields) {
  std::vector<EdgeStrain> edges;
  edges.reserve(6);
  for (int i = 0; i < 6; ++i)
    edges.push_back(edge_between(fields.positions.row(i), fields.positions.row(i + 1)));
  return edges;
}

// Sharper beside the cut edge, out to two thicknesses.
double sharper_at_edge(double y) {
  return y < 2 ? 0.3 : 0.2;
}

TEST(BentFaces, AreJudgedFartherInWhereACutEdgeCrossesTheBend) {
  const SheetFields fields = bent_strip(12, 0.5, sharper_at_edge);
  const BentFaces bent = bent_faces(fields, crossing_edge(fields));
  EXPECT_NEAR(worst_bend(bent.judged).strain, 0.2, 1e-12);
  EXPECT_NEAR(worst_bend(bent.beside_edges).strain, 0.3, 1e-12);
  EXPECT_NEAR(worst_bend(bent_faces(fields, {}).judged).strain, 0.3, 1e-12);
}

TEST(BentFaces, OfANarrowTabAreJudgedToTheEdge) {
  const SheetFields fields = bent_strip(2.5, 0.5, sharper_at_edge);
  const BentFaces bent = bent_faces(fields, crossing_edge(fields));
  EXPECT_NEAR(worst_bend(bent.judged).strain, 0.3, 1e-12);
  EXPECT_EQ(worst_bend(bent.beside_edges).triangle, -1);
}

// A short flange: the edge runs along the bend, whose sharpest part no other part stands for.
TEST(BentFaces, BesideAnEdgeAlongTheBendAreJudged) {
  SheetFields fields = bent_strip(12, 1, [](double) { return 0.2; });
  std::vector<EdgeStrain> edges;
  edges.reserve(12);
  for (int j = 0; j < 12; ++j)
    edges.push_back(edge_between(fields.positions.row(7 * j + 6), fields.positions.row(7 * (j + 1) + 6)));
  for (Eigen::Index t = 0; t < fields.triangles.rows(); ++t)
    if (t / 2 % 6 == 5) fields.strain_outer(t, 0) = 0.35;
  const BentFaces bent = bent_faces(fields, edges);
  EXPECT_GT(worst_bend(bent.judged).strain, 0.24);
  EXPECT_EQ(worst_bend(bent.beside_edges).triangle, -1);
}

}  // namespace
}  // namespace halftool::solver
