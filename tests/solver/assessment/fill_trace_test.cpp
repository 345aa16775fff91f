// A sheet that comes down on a hollow radius; exact, no source needed.
#include "solver/assessment/fill_trace.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::solver {
namespace {

constexpr double kThickness = 1;

/// Two triangles of a flat sheet over x = 0 to 2, whose tool face stands off by `gap` from a tool at z = 0.
SheetFields sheet_at(double gap, double pressure, double along = 0) {
  SheetFields fields;
  const double z = gap + 0.5 * kThickness;
  fields.positions.resize(4, 3);
  fields.positions << along, 0, z, along + 2, 0, z, along + 2, 2, z, along, 2, z;
  fields.triangles.resize(2, 3);
  fields.triangles << 0, 1, 2, 0, 2, 3;
  fields.gap = Eigen::Vector2d::Constant(gap);
  fields.thickness = Eigen::Vector2d::Constant(kThickness);
  fields.pressure = pressure;
  return fields;
}

RadiusToFill radius_at(double x, double y) {
  RadiusToFill radius;
  radius.hollow.radius = 5;
  radius.hollow.at = {x, y, 0};
  radius.needed = 60;
  return radius;
}

TEST(FillTrace, FillsWhereTheGapFallsBelowAFiftiethOfTheThickness) {
  FillTrace trace({radius_at(1, 0.5)}, kThickness, false, false);
  trace.add(sheet_at(0.5, 1));
  EXPECT_FALSE(trace.fillings()[0].is_filled);
  EXPECT_NEAR(trace.fillings()[0].stand_off, 0.5, 1e-12);
  trace.add(sheet_at(0.03, 10));
  EXPECT_FALSE(trace.fillings()[0].is_filled);
  trace.add(sheet_at(0.01, 40));
  EXPECT_NEAR(trace.fillings()[0].pressure, 20, 1e-9);  // half way in the logarithm
  trace.add(sheet_at(0.005, 80));
  EXPECT_NEAR(trace.fillings()[0].pressure, 20, 1e-9);
}

TEST(FillTrace, ComingOffAgainIsNotFilled) {
  FillTrace trace({radius_at(1, 0.5)}, kThickness, false, false);
  trace.add(sheet_at(0.01, 1));
  EXPECT_TRUE(trace.fillings()[0].is_filled);
  trace.add(sheet_at(0.03, 10));
  EXPECT_FALSE(trace.fillings()[0].is_filled);
  trace.add(sheet_at(0.01, 40));
  EXPECT_NEAR(trace.fillings()[0].pressure, 20, 1e-9);
}

TEST(FillTrace, AFurtherStepBeginsWithFilledRadii) {
  FillTrace trace({radius_at(1, 0.5)}, kThickness, false, false);
  trace.add(sheet_at(0.03, 10));
  trace.add(sheet_at(0.01, 40));
  const double filled_at = trace.fillings()[0].pressure;
  EXPECT_NEAR(filled_at, 20, 1e-9);
  trace.add(sheet_at(0.1, 0.01));  // springs off between the steps
  EXPECT_FALSE(trace.fillings()[0].is_filled);
  trace.add(sheet_at(0.01, 5));
  EXPECT_TRUE(trace.fillings()[0].is_filled);
  EXPECT_EQ(trace.fillings()[0].pressure, filled_at);
  trace.add(sheet_at(0.03, 30));
  EXPECT_FALSE(trace.fillings()[0].is_filled);
}

TEST(FillTrace, SheetThatTouchesBesideTheRadiusDoesNotFillIt) {
  FillTrace trace({radius_at(1, 0.5)}, kThickness, false, false);
  trace.add(sheet_at(0, 10, 20));
  EXPECT_FALSE(trace.fillings()[0].is_filled);
  EXPECT_GT(trace.fillings()[0].stand_off, 15);
}

TEST(FillTrace, RadiiAreMirroredToTheComputedPart) {
  FillTrace trace({radius_at(-1, -0.5)}, kThickness, true, true);
  trace.add(sheet_at(0, 10));
  EXPECT_TRUE(trace.fillings()[0].is_filled);
  FillTrace whole({radius_at(-1, -0.5)}, kThickness, false, false);
  whole.add(sheet_at(0, 10, 5));
  EXPECT_FALSE(whole.fillings()[0].is_filled);
}

}  // namespace
}  // namespace halftool::solver
