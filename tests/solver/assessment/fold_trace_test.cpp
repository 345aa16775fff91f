// A flange that turns as prescribed; exact, no source needed.
#include "solver/assessment/fold_trace.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace halftool::solver {
namespace {

constexpr double kThickness = 1, kOverhang = 20, kFar = NAN;

/// A bend along y at x = 30 with a flange of 20 mm.
mesh::ToolBend bend() {
  mesh::ToolBend made;
  made.radius = 3;
  made.turn = std::numbers::pi / 2;
  made.overhang = made.longest_overhang = kOverhang;
  made.outward = {1, 0};
  made.line = {{30, 0}, {30, 10}};
  return made;
}

/// A web from x = 0 to 30 on the tool, a flange from 30 to 50 off it in two rows, turned down by an angle.
SheetFields sheet_at(double turn, double pressure) {
  SheetFields fields;
  fields.positions.resize(8, 3);
  const double xs[] = {0, 30, 40, 50};
  for (int i = 0; i < 4; ++i)
    for (int j = 0; j < 2; ++j) {
      const double beyond = std::max(0.0, xs[i] - 30);
      fields.positions.row(2 * i + j) << xs[i] - beyond + beyond * std::cos(turn), 10.0 * j,
          -beyond * std::sin(turn);
    }
  fields.triangles.resize(6, 3);
  fields.gap.resize(6);
  for (int i = 0; i < 3; ++i) {
    fields.triangles.row(2 * i) << 2 * i, 2 * i + 2, 2 * i + 3;
    fields.triangles.row(2 * i + 1) << 2 * i, 2 * i + 3, 2 * i + 1;
    fields.gap.segment(2 * i, 2).setConstant(i == 0 ? 0.0 : kFar);
  }
  fields.thickness = Eigen::VectorXd::Constant(6, kThickness);
  fields.pressure = pressure;
  return fields;
}

TEST(FoldTrace, BeginsWhereTheTurnIsTwiceTheElasticOne) {
  FoldTrace trace({bend()});
  trace.add(sheet_at(0.01, 0.1));  // an elastic 0.1 rad/MPa
  EXPECT_TRUE(trace.foldings()[0].has_sheet);
  trace.add(sheet_at(0.02, 0.2));
  EXPECT_NEAR(trace.foldings()[0].elastic, 0.1, 1e-9);
  trace.add(sheet_at(0.04, 0.4));
  EXPECT_NEAR(trace.foldings()[0].excess, 1, 1e-9);
  EXPECT_TRUE(std::isnan(trace.foldings()[0].pressure));
  trace.add(sheet_at(0.15, 0.5));                                         // three times the elastic turn
  EXPECT_NEAR(trace.foldings()[0].pressure, std::sqrt(0.4 * 0.5), 1e-9);  // half way in the logarithm
  trace.add(sheet_at(1.5, 0.6));
  EXPECT_NEAR(trace.foldings()[0].pressure, std::sqrt(0.4 * 0.5), 1e-9);
  EXPECT_NEAR(trace.foldings()[0].turn, 1.49, 1e-9);
}

// Elastic turn that is no small part of the way: it lies on the tool half before it has turned by twice that.
TEST(FoldTrace, AStrongFlangeBeginsWhereItGivesWay) {
  FoldTrace trace({bend()});
  trace.add(sheet_at(0.1, 0.1));  // an elastic 1 rad/MPa
  trace.add(sheet_at(0.2, 0.2));
  trace.add(sheet_at(0.4, 0.4));
  trace.add(sheet_at(0.5, 0.6));  // stiffer as it wraps round the bend: 0.5 rad/MPa
  EXPECT_TRUE(std::isnan(trace.foldings()[0].yields));
  trace.add(sheet_at(0.72, 0.8));  // 1.1 rad/MPa
  EXPECT_NEAR(trace.foldings()[0].yields, 0.7, 1e-9);
  EXPECT_TRUE(std::isnan(trace.foldings()[0].pressure));
  trace.add(sheet_at(1.4, 1.2));
  EXPECT_NEAR(trace.foldings()[0].pressure, 0.7, 1e-9);
}

// Half of a shallow bend counts as folded, and a flange that settles back on its way has not given way.
TEST(FoldTrace, AStrongFlangeOverAShallowBendSettlesFirst) {
  mesh::ToolBend shallow = bend();
  shallow.turn = 0.4;
  FoldTrace trace({shallow});
  trace.add(sheet_at(0.02, 0.1));  // an elastic 0.2 rad/MPa
  trace.add(sheet_at(0.04, 0.2));
  trace.add(sheet_at(0.035, 0.3));  // settles
  trace.add(sheet_at(0.06, 0.4));
  EXPECT_TRUE(std::isnan(trace.foldings()[0].yields));
  trace.add(sheet_at(0.11, 0.5));  // 0.5 rad/MPa
  EXPECT_NEAR(trace.foldings()[0].yields, 0.45, 1e-9);
  EXPECT_TRUE(std::isnan(trace.foldings()[0].pressure));
  trace.add(sheet_at(0.26, 1.2));
  EXPECT_NEAR(trace.foldings()[0].pressure, 0.45, 1e-9);
}

TEST(FoldTrace, AnElasticFlangeDoesNotFold) {
  FoldTrace trace({bend()});
  for (int i = 1; i < 10; ++i) trace.add(sheet_at(0.01 * i, 0.1 * i));
  EXPECT_TRUE(std::isnan(trace.foldings()[0].pressure));
}

TEST(FoldTrace, BendsWithoutAFlangeOrWithoutSheetBeyondThemAreLeftOut) {
  mesh::ToolBend opening = bend(), inside = bend();
  opening.overhang = NAN;
  FoldTrace none({opening});
  none.add(sheet_at(0.01, 0.1));
  EXPECT_FALSE(none.foldings()[0].has_sheet);
  inside.line = {{-30, 0}};
  FoldTrace two({bend(), inside});
  two.add(sheet_at(0.01, 0.1));
  EXPECT_TRUE(two.foldings()[0].has_sheet);
  EXPECT_FALSE(two.foldings()[1].has_sheet);
}

TEST(FoldTrace, SheetThatSpansAPocketInTheWebIsNoFlange) {
  FoldTrace trace({bend()});
  SheetFields first = sheet_at(0, 0.1);
  first.gap.setConstant(kFar);
  trace.add(first);
  trace.add(sheet_at(0.02, 0.2));
  EXPECT_NEAR(trace.foldings()[0].turn, 0.02, 1e-9);  // the web, which does not turn, would halve it
}

TEST(FoldTrace, WhatTurnsBackWhileThePressureIsTakenOffIsLeftOut) {
  FoldTrace trace({bend()});
  trace.add(sheet_at(0.01, 0.1));
  trace.add(sheet_at(0.02, 0.2));
  trace.add(sheet_at(0.015, 0.01));  // 14 times the elastic turn, left over from friction
  EXPECT_TRUE(std::isnan(trace.foldings()[0].pressure));
  EXPECT_NEAR(trace.foldings()[0].turn, 0.01, 1e-9);
}

TEST(FoldTrace, EndsWhereTheSheetIsTrimmed) {
  FoldTrace trace({bend()});
  trace.add(sheet_at(0.01, 0.1));
  trace.add(sheet_at(0.02, 0.2));
  SheetFields less = sheet_at(1, 0.3);
  less.triangles.conservativeResize(4, 3);
  trace.add(less);
  EXPECT_NEAR(trace.foldings()[0].turn, 0.01, 1e-9);
  EXPECT_TRUE(std::isnan(trace.foldings()[0].pressure));
}

}  // namespace
}  // namespace halftool::solver
