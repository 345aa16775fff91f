#include "solver/assessment/edge_limit.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "mesh/surface_mesh.hpp"

namespace halftool::solver {
namespace {

/// A unit square of two triangles; its lower side lies in a plane of symmetry, its left side was trimmed.
mesh::Blank square() {
  mesh::Blank blank;
  blank.mesh.nodes.resize(4, 3);
  blank.mesh.nodes << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0;
  blank.mesh.triangles.resize(2, 3);
  blank.mesh.triangles << 0, 1, 2, 0, 2, 3;
  blank.edges = mesh::build_edges(blank.mesh);
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const Eigen::Vector3d middle =
        0.5 * (blank.mesh.nodes.row(blank.edges.nodes(e, 0)) + blank.mesh.nodes.row(blank.edges.nodes(e, 1)));
    blank.edge_kind.push_back(!blank.edges.is_boundary(e) ? mesh::EdgeKind::interior
                              : middle.y() == 0           ? mesh::EdgeKind::symmetry_y
                              : middle.x() == 0           ? mesh::EdgeKind::trimmed
                                                          : mesh::EdgeKind::outer);
  }
  return blank;
}

/// The square stretched by factors along x and y.
SheetFields stretched(const mesh::Blank& blank, double along_x, double along_y) {
  SheetFields fields;
  fields.triangles = blank.mesh.triangles;
  fields.positions = blank.mesh.nodes;
  fields.positions.col(0) *= along_x;
  fields.positions.col(1) *= along_y;
  fields.displacement = fields.positions - blank.mesh.nodes;
  return fields;
}

TEST(EdgeStrains, AreThoseAlongCutEdgesOnly) {
  const auto blank = square();
  const auto strains = edge_strains(blank, stretched(blank, 1.2, 0.9));
  ASSERT_EQ(strains.size(), 3U);  // right, upper and trimmed left side
  for (const EdgeStrain& edge : strains) {
    if (edge.kind == mesh::EdgeKind::trimmed) continue;
    const bool right = edge.triangle == 0;
    EXPECT_NEAR(edge.strain, right ? std::log(0.9) : std::log(1.2), 1e-14);
    EXPECT_NEAR(edge.at.x(), right ? 1.2 : 0.6, 1e-14);
  }
}

TEST(EdgeStrains, OfAHeldRimAreLeftOut) {
  auto blank = square();
  blank.rim_held = true;
  const auto strains = edge_strains(blank, stretched(blank, 1.2, 0.9));
  ASSERT_EQ(strains.size(), 1U);
  EXPECT_EQ(strains[0].kind, mesh::EdgeKind::trimmed);
}

TEST(EdgeShares, StandOnEdgeTrianglesAndAreZeroWhereTheEdgeShortens) {
  const auto blank = square();
  const auto strains = edge_strains(blank, stretched(blank, 1.2, 0.9));
  const auto shares = edge_shares(strains, 3, {edge_limit_strain(0.2), {}, {}});
  EXPECT_EQ(shares(0), 0);
  EXPECT_NEAR(shares(1), 1, 1e-14);
  EXPECT_TRUE(std::isnan(shares(2)));
}

// Stretched by 1.2 along y when it is cut, by 1.5 in the end; the second cut leaves the edge of the first
// alone.
TEST(EdgeStrains, OfATrimmedEdgeCountFromWhenItWasCut) {
  const auto before = [] {
    auto whole = square();
    for (auto& kind : whole.edge_kind)
      if (kind == mesh::EdgeKind::trimmed) kind = mesh::EdgeKind::outer;
    return whole;
  }();
  mesh::TrimmedBlank cut;
  cut.blank = square();
  cut.edge_origin.resize(cut.blank.edge_kind.size());
  for (int e = 0; e < cut.blank.edges.n_edges(); ++e)
    if (cut.blank.edge_kind[e] != mesh::EdgeKind::trimmed) cut.edge_origin[e] = {e, true};
  note_strain_when_cut(cut, before, stretched(cut.blank, 1, 1.2).positions);

  mesh::TrimmedBlank again;
  again.blank = square();
  for (int e = 0; e < again.blank.edges.n_edges(); ++e) again.edge_origin.push_back({e, true});
  note_strain_when_cut(again, cut.blank, stretched(cut.blank, 1, 1.4).positions);
  for (const auto& blank : {cut.blank, again.blank}) {
    int trimmed = 0;
    for (const EdgeStrain& edge : edge_strains(blank, stretched(blank, 1, 1.5))) {
      if (edge.kind == mesh::EdgeKind::trimmed) ++trimmed;
      const double since = edge.kind == mesh::EdgeKind::trimmed ? 1.2 : 1;
      const bool upper = edge.at.x() == 0.5;
      EXPECT_NEAR(edge.strain, upper ? 0 : std::log(1.5 / since), 1e-14);
    }
    EXPECT_EQ(trimmed, 1);
  }
}

TEST(EdgeShares, JudgeEachKindOfEdgeByItsOwnLimit) {
  const double strain = std::log(1.1);
  const auto share = [&](mesh::EdgeKind kind, const EdgeLimits& limits) {
    return edge_share({0, strain, {}, kind}, limits);
  };
  const EdgeLimits limits{strain, 0.5 * strain, {}};
  EXPECT_NEAR(share(mesh::EdgeKind::outer, limits), 1, 1e-14);
  EXPECT_NEAR(share(mesh::EdgeKind::hole, limits), 2, 1e-14);
  EXPECT_TRUE(std::isnan(share(mesh::EdgeKind::trimmed, limits)));
  EXPECT_NEAR(share(mesh::EdgeKind::trimmed, {{}, {}, 2 * strain}), 0.5, 1e-14);
}

// Ring expanded from R0 to R1: ln(R1/R0), as ln(1 + hole expansion ratio).
TEST(EdgeLimit, IsTheStrainOfAnExpandedHole) {
  EXPECT_DOUBLE_EQ(edge_limit_strain((16.0 - 10.0) / 10.0), std::log(1.6));
}

}  // namespace
}  // namespace halftool::solver
