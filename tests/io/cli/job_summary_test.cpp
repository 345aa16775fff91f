#include "io/cli/job_summary.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

namespace halftool::io {
namespace {

using testing::HasSubstr;

/// Two triangles of equal area with given strains (major, minor), judged by a limit.
solver::SheetFields fields_with(const Case& job, const Eigen::Matrix2d& strains) {
  solver::SheetFields fields;
  fields.positions.resize(4, 3);
  fields.positions << 0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0;
  fields.triangles.resize(2, 3);
  fields.triangles << 0, 1, 2, 0, 2, 3;
  fields.strain_mid = fields.strain_outer = fields.strain_inner = strains;
  fields.thinning = Eigen::VectorXd::Constant(2, 0.01);
  fields.plastic_mid = fields.plastic_outer = fields.plastic_inner = fields.thinning;
  fields.limit_share = solver::limit_shares(*forming_limit(job), fields);
  return fields;
}

Case with_points(bool engineering) {
  Case job;
  job.limits.forming_limit = FormingLimit::measured;
  job.limit_points = LimitPoints{};
  job.limit_points->points = {{-0.1, 0.4}, {0, 0.3}, {0.2, 0.35}};  // invented
  job.limit_points->engineering = engineering;
  job.limit_points->source = "lab report 7";
  return job;
}

TEST(MeasuredLimit, TakesThePlaceOfTheEstimate) {
  const Case job = with_points(false);
  const auto limit = forming_limit(job);
  ASSERT_TRUE(limit && std::holds_alternative<solver::MeasuredLimit>(*limit));
  EXPECT_DOUBLE_EQ(solver::limit_major(*limit, 0), 0.3);
  EXPECT_THAT(limit_words(job), HasSubstr("measured, lab report 7 (user): 3 points"));
}

TEST(MeasuredLimit, EngineeringStrainsBecomeTrueOnes) {
  const auto limit = forming_limit(with_points(true));
  EXPECT_DOUBLE_EQ(solver::limit_major(*limit, 0), std::log(1.3));
  EXPECT_DOUBLE_EQ(solver::limit_major(*limit, std::log(1.2)), std::log(1.35));
}

TEST(MeasuredLimit, WhatIsNotJudgedIsSaidAndDoesNotHideTheRest) {
  const Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.2, -0.15, 0.15, 0.0;  // the first path passes beside the points
  Summary summary;
  add_state(summary, job, fields_with(job, strains));
  EXPECT_NEAR(summary.limit_share.value, 0.5, 1e-12);
  EXPECT_NEAR(summary.limit_not_judged, 0.5, 1e-12);
  EXPECT_DOUBLE_EQ(summary.limit_not_judged_major.value, 0.2);
  add_doubts(summary, job.material);
  EXPECT_THAT(summary.warnings,
              testing::Contains(HasSubstr("50.0 % of the part is stretched on paths beside")));
}

TEST(MeasuredLimit, PassingItIsSaid) {
  const Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.33, 0.0, 0.15, 0.0;
  Summary summary;
  add_state(summary, job, fields_with(job, strains));
  EXPECT_EQ(summary.outcome, Outcome::limit_passed);
  EXPECT_THAT(summary.reason, HasSubstr("1.10 of the measured forming limit"));
  EXPECT_EQ(summary.limit_not_judged, 0);
}

TEST(MeasuredLimit, NothingJudgedLeavesTheShareEmpty) {
  const Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.2, -0.15, 0.2, -0.15;
  Summary summary;
  add_state(summary, job, fields_with(job, strains));
  EXPECT_TRUE(std::isnan(summary.limit_share.value));
  EXPECT_NEAR(summary.limit_not_judged, 1, 1e-12);
}

}  // namespace
}  // namespace halftool::io
