// Tendency to wrinkle, and the kind of the largest share.
#include "solver/assessment/wrinkling.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "solver/assessment/governing_share.hpp"

namespace halftool::solver {
namespace {

TEST(Wrinkling, CompressedShareFollowsHillsStressesOfAStraightPath) {
  for (const double r : {0.6, 1.0, 1.9}) {
    EXPECT_NEAR(compressed_share(0.1, -0.1 * r / (1 + r), r), 0, 1e-12);  // uniaxial tension
    EXPECT_NEAR(compressed_share(0.1, -0.1, r), 0.5, 1e-12);              // pure shear
    EXPECT_NEAR(compressed_share(0.1, -0.1 * (1 + r) / r, r), 1, 1e-12);  // uniaxial compression
    EXPECT_EQ(compressed_share(-0.01, -0.1, r), 1);
    EXPECT_EQ(compressed_share(0.1, 0.05, r), 0);
  }
}

TEST(Wrinkling, MeanRValueIsThatOfTheSheet) {
  EXPECT_EQ(mean_r_value(VonMises{}), 1);
  EXPECT_DOUBLE_EQ(mean_r_value(RValues{1, 2, 3}), 2);
  // AA6022-T4: Tian and others (2016), as quoted: r 0.80, 0.37, 0.54
  EXPECT_NEAR(mean_r_value(Yld2000{8, {0.919, 1.072, 1.204, 1.109, 0.992, 0.892, 0.957, 1.098}}), 0.52, 0.04);
}

SheetFields one_triangle(double major, double minor) {
  SheetFields fields;
  fields.positions = mesh::Points::Zero(3, 3);
  fields.positions(1, 0) = fields.positions(2, 1) = 1;
  fields.triangles.resize(1, 3);
  fields.triangles << 0, 1, 2;
  fields.strain_mid = Eigen::RowVector2d(major, minor);
  fields.strain_outer = fields.strain_inner = fields.strain_mid;
  fields.thickness = Eigen::VectorXd::Constant(1, 1.0);
  fields.thinning = Eigen::VectorXd::Constant(1, 0.06);
  fields.gap = Eigen::VectorXd::Constant(1, 0.02);
  return fields;
}

TEST(Wrinkling, IsNotToldOfStrainsTooSmall) {
  EXPECT_EQ(wrinkling_tendency(one_triangle(0.01, -0.0249), 1)(0), 0);
  EXPECT_NEAR(wrinkling_tendency(one_triangle(0.02, -0.04), 1)(0), 1, 1e-12);
}

TEST(Wrinkling, SheetIsLooseAboveFivePercentOfItsThickness) {
  SheetFields fields = one_triangle(0, 0);
  EXPECT_FALSE(is_loose(fields, 0));
  fields.gap(0) = 0.06;
  EXPECT_TRUE(is_loose(fields, 0));
  fields.gap(0) = std::nan("");
  EXPECT_TRUE(is_loose(fields, 0));
}

TEST(GoverningShare, NamesTheLimitThatIsUsedMostFaceByFace) {
  SheetFields fields = one_triangle(0.1, 0);
  fields.limit_share = Eigen::VectorXd::Constant(1, 0.3);
  GoverningShare largest = add_governing_shares(fields, {});
  EXPECT_EQ(largest.kind, LimitKind::splitting);
  EXPECT_DOUBLE_EQ(largest.share, 0.3);
  fields.path_share = Eigen::VectorXd::Constant(1, 0.4);
  EXPECT_DOUBLE_EQ(add_governing_shares(fields, {}).share, 0.4);
  largest = add_governing_shares(fields, {0.1, std::nullopt});
  EXPECT_EQ(largest.kind, LimitKind::thinning);
  EXPECT_NEAR(largest.share, 0.6, 1e-12);
  fields.edge_share = Eigen::VectorXd::Constant(1, 0.7);
  EXPECT_EQ(add_governing_shares(fields, {0.1, std::nullopt}).kind, LimitKind::edge);
  // Only the face that the bend stretches is judged by the bend limit.
  fields.bent_strain.resize(1, 2);
  fields.bent_strain << std::nan(""), 0.2;
  largest = add_governing_shares(fields, {0.1, 0.25});
  EXPECT_EQ(largest.kind, LimitKind::bend);
  EXPECT_FALSE(largest.outer);
  EXPECT_NEAR(largest.share, 0.8, 1e-12);
  EXPECT_DOUBLE_EQ(fields.face_share(0, 0), 0.7);
  EXPECT_EQ(kind_word(LimitKind::bend), "bend");
}

TEST(GoverningShare, WrinklingIsNamedOnTheFaceAndIsNoShareOfALimit) {
  SheetFields fields = one_triangle(0.02, -0.04);
  fields.limit_share = Eigen::VectorXd::Constant(1, 0.3);
  fields.wrinkling = wrinkling_tendency(fields, 1);
  const GoverningShare largest = add_governing_shares(fields, {});
  EXPECT_EQ(static_cast<LimitKind>(fields.face_kind(0, 0)), LimitKind::wrinkling);
  EXPECT_EQ(fields.face_share(0, 0), fields.wrinkling(0));
  EXPECT_EQ(largest.kind, LimitKind::splitting);
  EXPECT_DOUBLE_EQ(largest.share, 0.3);
  fields.limit_share(0) = std::nan("");  // not judged
  EXPECT_EQ(add_governing_shares(fields, {}).triangle, -1);
}

}  // namespace
}  // namespace halftool::solver
