// Computed values beside the estimates of invented flanges.
#include "io/cli/comparing.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "solver/assessment/bend_limit.hpp"

namespace halftool::io {
namespace {

constexpr double degree = std::numbers::pi / 180;

/// A flange over a bend at x of 90 degrees that opens by 2 degrees (1.8 to 2.2).
solver::FlangeEstimate flange_at(double x, double edge_strain) {
  solver::FlangeEstimate flange;
  flange.name = x > 0 ? "bend at +x" : "bend at -x";
  flange.bend.turn = 90 * degree;
  flange.bend.line = {{x, -10}, {x, 10}};
  flange.springback = solver::BendSpringback{2.0 / 90, 1.8 / 90, 2.2 / 90};
  flange.edge_strain = edge_strain;
  flange.edge_thinning = edge_strain / 2;
  return flange;
}

solver::Flange part_at(double x) {
  return {"flange", {}, Eigen::Vector3d(x, 0, -10)};
}

TEST(Comparing, SpringbackBesideTheNearestBend) {
  Summary summary;
  const std::vector<solver::FlangeEstimate> estimates = {flange_at(30, NAN), flange_at(-30, NAN)};
  compare_springback(summary, estimates, part_at(33), {"flange", 90 * degree, 87.5 * degree});
  ASSERT_EQ(summary.comparisons.size(), 1U);
  const Comparison& found = summary.comparisons.front();
  EXPECT_NEAR(found.computed, 2.5, 1e-9);
  EXPECT_NEAR(found.estimated, 2, 1e-9);
  EXPECT_NEAR(found.low, 1.8, 1e-9);
  EXPECT_NEAR(found.high, 2.2, 1e-9);
  EXPECT_NEAR(found.difference(), 0.25, 1e-9);
  EXPECT_FALSE(found.is_apart());
}

TEST(Comparing, MoreThanThirtyPercentIsApart) {
  EXPECT_FALSE((Comparison{"", "", 1.29, 1}.is_apart()));
  EXPECT_TRUE((Comparison{"", "", 1.31, 1}.is_apart()));
  EXPECT_TRUE((Comparison{"", "", 0.69, 1}.is_apart()));
  EXPECT_TRUE((Comparison{"", "", -0.0659, -0.05}.is_apart()));
  EXPECT_GT((Comparison{"", "", -0.06, -0.05}.difference()), 0);
}

TEST(Comparing, WhatWasNotReachedIsApartOnlyFromLowerEstimates) {
  Comparison line{"", "", 100, 150};
  line.not_reached = true;
  EXPECT_FALSE(line.is_apart());
  EXPECT_EQ(line.difference(), 0);
  line.estimated = 70;
  EXPECT_TRUE(line.is_apart());
}

/// A flat sheet on a tool at z = 0.
solver::SheetFields flat_sheet(double gap, double pressure) {
  solver::SheetFields fields;
  fields.positions.resize(3, 3);
  fields.positions << 0, 0, gap + 0.5, 2, 0, gap + 0.5, 0, 2, gap + 0.5;
  fields.triangles.resize(1, 3);
  fields.triangles << 0, 1, 2;
  fields.gap = Eigen::VectorXd::Constant(1, gap);
  fields.thickness = Eigen::VectorXd::Ones(1);
  fields.pressure = pressure;
  return fields;
}

TEST(Comparing, InsideRadiiBesideTheirFormula) {
  Summary summary;
  solver::RadiusToFill filled, open;
  filled.hollow.radius = open.hollow.radius = 5;
  filled.hollow.at = {0.6, 0.6, 0};
  open.hollow.at = {40, 0, 0};
  filled.needed = 60;
  open.needed = 120;
  solver::FillTrace trace({open, filled}, 1, false, false);
  compare_filling(summary, trace, 100);
  EXPECT_TRUE(summary.comparisons.empty());  // nothing pressed yet
  trace.add(flat_sheet(0.04, 25));
  trace.add(flat_sheet(0, 100));
  compare_filling(summary, trace, 100);
  ASSERT_EQ(summary.comparisons.size(), 2U);
  EXPECT_TRUE(summary.comparisons[0].not_reached);
  EXPECT_EQ(summary.comparisons[0].computed, 100);
  EXPECT_EQ(summary.comparisons[0].estimated, 120);
  EXPECT_FALSE(summary.comparisons[1].not_reached);
  EXPECT_NEAR(summary.comparisons[1].computed, 50, 1e-9);
  EXPECT_EQ(summary.comparisons[1].what, "inside radius of 5 mm at (1, 1, 0) fills at");
}

TEST(Comparing, FlangeOverSomethingElseIsNotCompared) {
  Summary summary;
  const std::vector<solver::FlangeEstimate> estimates = {flange_at(30, NAN)};
  compare_springback(summary, estimates, part_at(33), {"flange", 45 * degree, 44 * degree});
  compare_springback(summary, {}, part_at(33), {"flange", 90 * degree, 88 * degree});
  EXPECT_TRUE(summary.comparisons.empty());
}

TEST(Comparing, EdgesGoWithTheNearestBendInTheSenseOfItsEstimate) {
  Summary summary;
  const std::vector<solver::FlangeEstimate> estimates = {flange_at(30, 0.1), flange_at(-30, -0.05)};
  const std::vector<solver::EdgeStrain> edges = {
      {0, 0.12, {33, 0, -9}}, {1, 0.02, {33, 5, -9}}, {2, -0.04, {-33, 0, -9}}, {3, 0.30, {-33, 5, -9}}};
  const Eigen::VectorXd thinning = Eigen::Vector4d(0.06, 0.01, -0.02, 0.2);
  compare_edges(summary, estimates, edges, thinning);
  ASSERT_EQ(summary.comparisons.size(), 4U);
  EXPECT_EQ(summary.comparisons[0].computed, 0.12);
  EXPECT_EQ(summary.comparisons[1].computed, 0.06);
  EXPECT_EQ(summary.comparisons[2].computed, -0.04);
  EXPECT_EQ(summary.comparisons[3].computed, -0.02);
  EXPECT_EQ(summary.comparisons[3].estimated, -0.025);
}

TEST(Comparing, FibresGoWithTheNearestBendWhereTheSheetIsBent) {
  solver::SheetFields fields;
  fields.positions.resize(6, 3);
  fields.positions << 30, 0, 0, 31, 0, 0, 30, 1, 0, -30, 0, 0, -31, 0, 0, -30, 1, 0;
  fields.triangles.resize(2, 3);
  fields.triangles << 0, 1, 2, 3, 5, 4;
  fields.thickness = Eigen::Vector2d(1, 1);
  fields.strain_mid = Eigen::MatrixX2d::Zero(2, 2);
  fields.strain_outer = Eigen::MatrixX2d::Zero(2, 2);
  fields.strain_inner = Eigen::MatrixX2d::Zero(2, 2);
  fields.strain_outer(0, 0) = 0.2;
  fields.bent_strain = solver::bent_faces(fields, {}).judged;
  auto estimates = std::vector<solver::FlangeEstimate>{flange_at(30, NAN), flange_at(-30, NAN)};
  estimates[0].fibre_strain = 0.15;
  Summary summary;
  compare_bends(summary, estimates, fields);
  ASSERT_EQ(summary.comparisons.size(), 1U);  // nothing is bent at -x
  EXPECT_EQ(summary.comparisons[0].what, "strain of the outer fibre at bend at +x");
  EXPECT_NEAR(summary.comparisons[0].computed, 0.2, 1e-14);
  EXPECT_NEAR(summary.comparisons[0].difference(), 1.0 / 3, 1e-12);
}

TEST(Comparing, StraightFlangesHaveNoEdgeToCompare) {
  Summary summary;
  compare_edges(summary, {flange_at(30, NAN)}, {{0, 0.01, {33, 0, -9}}}, Eigen::VectorXd::Zero(1));
  EXPECT_TRUE(summary.comparisons.empty());
}

}  // namespace
}  // namespace halftool::io
