// Share of the forming limit along a path that turns.
#include "solver/assessment/strain_path.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace halftool::solver {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

const MeasuredLimit kLimit = {{{-0.35, 0.6}, {-0.1, 0.38}, {0, 0.3}, {0.2, 0.36}, {0.4, 0.4}}};  // invented

SheetMaterial sheet(const YieldCondition& yield = VonMises{}) {
  SheetMaterial material{"", "", "", 70000, 0.33, VoceHardening{100, 300, 10}};
  material.yield = yield;
  return material;
}

/// One triangle whose mid-surface has this strain [11, 22, 2*12] and flows.
SheetFields state(const Vector3d& strain, double plastic) {
  SheetFields fields;
  fields.strain_mid_axes = strain.transpose();
  fields.plastic_mid = Eigen::VectorXd::Constant(1, plastic);
  return fields;
}

/// Stretches a triangle straight on.
class Walk {
 public:
  explicit Walk(const SheetMaterial& material, FormingLimit limit = kLimit)
      : path_(material, std::move(limit)) {}
  Walk& by(const Vector3d& strain, int steps) {
    for (int i = 0; i < steps; ++i) {
      strain_ += strain / steps;
      plastic_ += 1e-3;
      path_.add(state(strain_, plastic_));
    }
    return *this;
  }
  /// As far as the share stays below 1, in small steps.
  Walk& to_limit(const Vector3d& direction) {
    while (share() < 1) by(direction * 1e-4, 1);
    return *this;
  }
  [[nodiscard]] double share() const { return path_.shares().size() == 0 ? 0 : path_.shares()(0); }
  [[nodiscard]] const Vector3d& strain() const { return strain_; }
  [[nodiscard]] StrainPath& path() { return path_; }

 private:
  StrainPath path_;
  Vector3d strain_ = Vector3d::Zero();
  double plastic_ = 0;
};

TEST(StrainPath, OnAStraightPathIsTheShareOfTheStraightPath) {
  for (const YieldCondition& yield :
       {YieldCondition(VonMises{}), YieldCondition(RValues{1.8, 1.5, 2.2}),
        YieldCondition(Yld2000{8, {0.919, 1.072, 1.204, 1.109, 0.992, 0.892, 0.957, 1.098}})})
    for (const double ratio : {-0.5, -0.2, 0.0, 0.4, 1.0})
      for (const double shear : {0.0, 0.05}) {
        const Vector3d end(0.2, ratio * 0.2, shear);
        const double mean = 0.5 * (end[0] + end[1]);
        const double radius = std::hypot(0.5 * (end[0] - end[1]), 0.5 * shear);
        const double straight = limit_share(kLimit, mean + radius, mean - radius);
        for (const int steps : {1, 7, 200})
          EXPECT_NEAR(Walk(sheet(yield)).by(end, steps).share(), straight, 1e-6);
      }
}

// Prestrain p and then plane strain up to the limit m, under von Mises: equivalent strain 2/sqrt(3) m is
// allowed; uniaxial prestrain uses p of it, equibiaxial prestrain 2 p. In sheet of aluminium 2008-T4 uniaxial
// prestrain raises and equibiaxial prestrain lowers the major strain that is reached in plane strain (Graf
// and Hosford, Metall. Trans. A 24 (1993) 2503-2512; the directions from memory).
TEST(StrainPath, PrestrainMovesTheLimitAsPublished) {
  constexpr double m = 0.3;
  const double half_root = std::sqrt(3) / 2;
  for (const double p : {0.04, 0.08, 0.12}) {
    const Vector3d drawn = Walk(sheet()).by({p, -p / 2, 0}, 20).to_limit({1, 0, 0}).strain();
    EXPECT_NEAR(drawn[0], m + p - half_root * p, 2e-4);
    EXPECT_GT(drawn[0], m);
    const Vector3d stretched = Walk(sheet()).by({p, p, 0}, 20).to_limit({1, 0, 0}).strain();
    EXPECT_NEAR(stretched[0], m + p - half_root * 2 * p, 2e-4);
    EXPECT_LT(stretched[0], m);
    // The straight path to that strain reads less than 1: it would hide the split.
    EXPECT_LT(limit_share(kLimit, stretched[0], stretched[1]), 0.95);
    EXPECT_LT(limit_share(kLimit, drawn[0], drawn[1]), 1);
  }
}

TEST(StrainPath, TurningAwayDoesNotTakeBackWhatWasUsed) {
  Walk walk(sheet());
  walk.by({0.27, 0, 0}, 40);
  const double before = walk.share();
  EXPECT_NEAR(before, 0.9, 1e-6);
  walk.by({0.02, -0.01, 0}, 20);  // towards uniaxial tension, where more is allowed
  EXPECT_GE(walk.share(), before);
}

TEST(StrainPath, StrainAndBackUsesUpTwice) {
  const double there = Walk(sheet()).by({0.1, -0.05, 0}, 20).share();
  const double again =
      Walk(sheet()).by({0.1, -0.05, 0}, 20).by({-0.1, 0.05, 0}, 20).by({0.1, -0.05, 0}, 20).share();
  EXPECT_NEAR(again, 3 * there, 1e-6);
}

TEST(StrainPath, ElasticMotionDoesNotCount) {
  StrainPath path(sheet(), kLimit);
  path.add(state({0.15, 0, 0}, 0.17));
  const double before = path.shares()(0);
  for (int i = 0; i < 50; ++i) path.add(state({0.15 - (i % 2) * 0.002, 0, 0}, 0.17));
  EXPECT_EQ(path.shares()(0), before);
}

TEST(StrainPath, IsCarriedThroughACutWhoseOwnMotionDoesNotCount) {
  Walk walk(sheet());
  walk.by({0.15, 0, 0}, 20);
  walk.path().trim({0, 0});
  SheetFields cut;
  cut.strain_mid_axes.resize(2, 3);
  cut.strain_mid_axes << 0.15, 0, 0, 0.16, 0.01, 0;
  cut.plastic_mid = Eigen::Vector2d(0.2, 0.2);
  walk.path().add(cut);
  EXPECT_NEAR(walk.path().shares()(0), 0.5, 1e-6);
  EXPECT_NEAR(walk.path().shares()(1), 0.5, 1e-6);
  cut.strain_mid_axes.col(0).array() += 0.03;
  cut.plastic_mid.array() += 0.03;
  walk.path().add(cut);
  EXPECT_NEAR(walk.path().shares()(0), 0.6, 1e-6);
  EXPECT_NEAR(walk.path().shares()(1), 0.6, 1e-6);
}

TEST(StrainPath, PathsBesideThePointsAreNotJudged) {
  EXPECT_TRUE(std::isnan(Walk(sheet()).by({0.1, -0.09, 0}, 20).share()));
  EXPECT_NEAR(Walk(sheet()).by({0.15, 0, 0}, 20).by({0.03, -0.029, 0}, 5).share(), 0.5, 0.11);
  EXPECT_EQ(StrainPath(sheet(), kLimit).shares().size(), 0);
  StrainPath rests(sheet(), kLimit);
  rests.add(state(Vector3d::Zero(), 0));
  EXPECT_EQ(rests.shares()(0), 0);
}

}  // namespace
}  // namespace halftool::solver
