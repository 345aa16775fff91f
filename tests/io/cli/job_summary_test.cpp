#include "io/cli/job_summary.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "io/cli/job_limit.hpp"
#include "io/cli/scatter_design.hpp"
#include "io/cli/share_summary.hpp"

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

Case with_computed(const std::string& limit, const std::string& rate = "") {
  Case job = parse_case(R"(
[sheet]
thickness = "1 mm"
material = { name = "demo", source = "invented", grade = "guessed", youngs_modulus = "207 GPa", poissons_ratio = 0.3, swift = { strength = "530 MPa", pre_strain = 0.01, exponent = 0.26 })" +
                            rate + R"( }
[blank]
rectangle = ["190 mm", "60 mm"]
[tool]
kind = "block"
block = { length = "150 mm", width = "60 mm", height = "35 mm", edge_radius = "3 mm" }
[lubrication]
tool_side = { mu = 0.1 }
[[step]]
pressure = "60 MPa"
)" + limit,
                        "case.toml");
  complete_limit(job);
  return job;
}

TEST(ComputedLimit, JudgesAndIsNamedAndGraded) {
  const Case job = with_computed("[sheet.forming_limit]\ncomputed = { imperfection = 0.002 }\n");
  EXPECT_EQ(job.limits.forming_limit, FormingLimit::computed);
  const auto limit = forming_limit(job);
  ASSERT_TRUE(limit && std::holds_alternative<solver::ComputedLimit>(*limit));
  const double plane_strain = solver::limit_major(*limit, 0);
  Eigen::Matrix2d strains;
  strains << 1.1 * plane_strain, 0.0, 0.1, -0.09;  // the second path passes beyond uniaxial tension
  Summary summary;
  add_state(summary, job, fields_with(job, strains));
  EXPECT_NEAR(summary.limit_share.value, 1.1, 1e-9);
  EXPECT_NEAR(summary.limit_not_judged, 0.5, 1e-12);
  EXPECT_THAT(summary.reason, HasSubstr("1.10 of the computed forming limit"));
  EXPECT_THAT(limit_words(job), HasSubstr("computed, imperfection 0.002 as given, sheet guessed"));
  EXPECT_THAT(limit_credential(job), HasSubstr("computed, imperfection 0.002 as given, sheet guessed"));
  EXPECT_THAT(limit_title(job), HasSubstr("computed, imperfection 0.002"));
  EXPECT_THAT(limit_facts(job), HasSubstr("(0.000, "));
  EXPECT_THAT(limit_words(job),
              HasSubstr("not judged where minor over major strain lies below -0.60, a tenth beyond uniaxial "
                        "tension"));
}

// The exponent alone is for the groove; the press's flow stress stays.
TEST(ComputedLimit, TakesTheRateSensitivityAndSaysSo) {
  const std::string asked = "[limits]\nforming_limit = \"computed\"\n";
  const Case without = with_computed(asked);
  const Case with = with_computed(asked, ", strain_rate = { exponent = 0.02 }");
  EXPECT_GT(solver::limit_major(*forming_limit(with), 0),
            1.3 * solver::limit_major(*forming_limit(without), 0));
  EXPECT_EQ(solver::rate_factor(with.material), 1);
  EXPECT_THAT(limit_words(with), HasSubstr("rate sensitivity m 0.02"));
  EXPECT_THAT(limit_words(with), testing::Not(HasSubstr("no rate effect")));
  EXPECT_THAT(limit_credential(with), HasSubstr("rate sensitivity m 0.02"));
  EXPECT_THAT(limit_title(with), HasSubstr("rate sensitivity m 0.02"));

  const Case below = with_computed(asked, ", strain_rate = { exponent = -0.005 }");
  EXPECT_EQ(solver::limit_major(*forming_limit(below), 0), solver::limit_major(*forming_limit(without), 0));
  EXPECT_THAT(limit_words(below), HasSubstr("no rate effect, as m -0.005 is below 0"));
}

TEST(ComputedLimit, NormalPressureIsStatedWithTheCurveWithoutIt) {
  const std::string table = "[sheet.forming_limit.computed]\nnormal_pressure = ";
  const Case pressed = with_computed(table + "\"60 MPa\"\n");
  const Case without = with_computed("[limits]\nforming_limit = \"computed\"\n");
  EXPECT_EQ(pressed.limits.forming_limit, FormingLimit::computed);
  const double plain = solver::limit_major(*forming_limit(without), 0);
  EXPECT_GT(solver::limit_major(*forming_limit(pressed), 0), 1.05 * plain);
  EXPECT_THAT(limit_words(pressed),
              HasSubstr(fmt::format("raised by a normal pressure of 60 MPa as between flat "
                                    "faces (own arithmetic; {:.3f} and ",
                                    plain)));
  EXPECT_THAT(limit_credential(pressed), HasSubstr("raised by 60 MPa between flat faces"));
  try {
    (void)with_computed(table + "\"400 MPa\"\n");
    FAIL() << "a pressure beyond the proof stress is to be refused";
  } catch (const CaseError& error) {
    EXPECT_EQ(error.problems().at(0).key, "sheet.forming_limit.computed.normal_pressure");
    EXPECT_THAT(error.what(), HasSubstr("0.2 % proof stress"));
  }
}

TEST(ComputedLimit, TheWordAloneTakesTheUsualImperfection) {
  const Case job = with_computed("[limits]\nforming_limit = \"computed\"\n");
  ASSERT_TRUE(job.computed_limit.has_value());
  EXPECT_EQ(job.computed_limit->imperfection, solver::kUsualImperfection);
  EXPECT_GT(job.computed_limit->points.size(), 20U);
  EXPECT_THAT(limit_words(job), HasSubstr("imperfection 0.005 assumed"));
  EXPECT_THAT(limit_words(job), HasSubstr("no rate effect"));
}

// The sheet of with_computed necks at 530 (0.26/e)^0.26 = 288 MPa: the estimate was made for such a steel.
TEST(LowerLimit, IsTheLowerOfBothCurves) {
  EXPECT_EQ(with_computed("").limits.forming_limit, FormingLimit::estimate);
  const auto share = [](Case job, FormingLimit judge, double path) {
    job.limits.forming_limit = judge;
    return solver::limit_share(*forming_limit(job), 0.1, 0.1 * path);
  };
  const std::string asked = "[limits]\nforming_limit = \"lower\"\n";
  const Case job = with_computed(asked);
  EXPECT_GT(share(job, FormingLimit::computed, 0), 1.1 * share(job, FormingLimit::estimate, 0));
  EXPECT_DOUBLE_EQ(share(job, FormingLimit::lower, 0), share(job, FormingLimit::computed, 0));
  EXPECT_TRUE(std::isnan(share(job, FormingLimit::computed, -0.95)));
  EXPECT_DOUBLE_EQ(share(job, FormingLimit::lower, -0.95), share(job, FormingLimit::estimate, -0.95));
  const Case slow = with_computed(asked, ", strain_rate = { exponent = 0.06 }");
  EXPECT_LT(share(slow, FormingLimit::computed, 0), 0.9 * share(slow, FormingLimit::estimate, 0));
  EXPECT_DOUBLE_EQ(share(slow, FormingLimit::lower, 0), share(slow, FormingLimit::estimate, 0));
  EXPECT_THAT(limit_words(job), HasSubstr("the lower of two, not measured: computed, imperfection 0.005"));
  EXPECT_THAT(limit_words(job), HasSubstr("Keeler and Brazier 1977; made for low-carbon steel"));
  EXPECT_THAT(limit_facts(job), HasSubstr("#   estimate: (23.3 + 14.13 t) n/0.21 = "));
  EXPECT_THAT(limit_credential(job), HasSubstr("lower of the estimate and computed, imperfection 0.005"));
}

// An exponent that scatters moves the limit with it.
TEST(ComputedLimit, IsThatOfTheVariedSheet) {
  Case job = with_computed("[limits]\nforming_limit = \"computed\"\n");
  job.scatter.exponent = 0.1;
  const double middle = solver::limit_major(*forming_limit(job), 0);
  std::vector<double> limits;
  for (CaseVariant& variant : scatter_variants(job, scatter_design(job))) {
    complete_limit(variant.job);
    limits.push_back(solver::limit_major(*forming_limit(variant.job), 0));
  }
  EXPECT_THAT(limits,
              testing::UnorderedElementsAre(middle, testing::Lt(0.95 * middle), testing::Gt(1.05 * middle)));
}

TEST(Credential, NamesTheLubricantWhereTheCaseDoes) {
  Case job;
  job.press.tool_friction = 0.05;
  EXPECT_THAT(credential(job), HasSubstr("friction 0.05, assumed as given"));
  job.lubricant = "film";
  job.friction_zones = {{"the rim", "dry", 0.18, {}}};
  EXPECT_THAT(credential(job), HasSubstr("friction 0.05 (film), 0.18 (dry) in the rim, assumed as given"));
}

TEST(EdgeLimits, HolesAndTrimsHaveTheirOwnOrThatOfTheOutline) {
  Case job;
  job.limits.edge_stretch = 0.25;
  job.edge_cut = EdgeCut::milled;
  const CutLimits alike = edge_limits(job);
  EXPECT_EQ(alike.words, "0.2231 true strain = ln(1 + 0.25), edge stretch (milled)");
  EXPECT_EQ(alike.of.holes, alike.of.outline);
  EXPECT_EQ(alike.of.trimmed, alike.of.outline);
  job.limits.hole_stretch = 0.1;
  job.hole_cut = EdgeCut::sheared;
  job.limits.trim_stretch = 0.2;
  const CutLimits apart = edge_limits(job);
  EXPECT_NEAR(*apart.of.holes, std::log(1.1), 1e-14);
  EXPECT_NEAR(*apart.of.trimmed, std::log(1.2), 1e-14);
  EXPECT_EQ(apart.lowest(), apart.of.holes);
  EXPECT_THAT(apart.words,
              HasSubstr("; rims of holes (sheared): 0.0953 true strain = ln(1 + 0.1), edge stretch; "
                        "edges trimmed between steps: 0.1823 true strain"));
  EXPECT_EQ(edge_limits(Case()).lowest(), std::nullopt);
}

TEST(EdgeAndBendFacts, SayEachLimitAndWhereItComesFrom) {
  Case job;
  EXPECT_EQ(edge_and_bend_facts(job),
            "# edge limit: not judged: no limit given (cut not stated)\n# bend limit: not judged: no limit "
            "given\n");
  job.limits.hole_expansion = 0.25;
  job.limits.bend_ratio = 1;
  EXPECT_THAT(edge_and_bend_facts(job), HasSubstr("ISO 16630 (cut not stated); of the case\n"));
  EXPECT_THAT(edge_and_bend_facts(job),
              HasSubstr("0.2877 true strain = ln(1 + t/(2 R + t)) at R/t = 1, as given\n"));
  job.limits.bend_source = "stock AA6061-O: handbook typical, a table";
  EXPECT_THAT(edge_and_bend_facts(job), HasSubstr("at R/t = 1, stock AA6061-O: handbook typical, a table\n"));
}

/// The square of fields_with, cut all around, stretched along y.
mesh::Blank square_blank(solver::SheetFields& fields, double along_y) {
  mesh::Blank blank;
  blank.mesh.nodes = fields.positions;
  blank.mesh.triangles = fields.triangles;
  blank.edges = mesh::build_edges(blank.mesh);
  for (int e = 0; e < blank.edges.n_edges(); ++e)
    blank.edge_kind.push_back(blank.edges.is_boundary(e) ? mesh::EdgeKind::outer : mesh::EdgeKind::interior);
  fields.thickness = Eigen::VectorXd::Constant(2, 0.1);
  fields.positions.col(1) *= along_y;
  fields.displacement = fields.positions - blank.mesh.nodes;
  return blank;
}

TEST(EdgesAndBends, AreJudgedWhereTheCaseLimitsThem) {
  Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.05, 0.0, 0.05, 0.0;
  auto fields = fields_with(job, strains);
  fields.strain_outer << 0.25, 0.0, 0.1, 0.0;
  const auto blank = square_blank(fields, 1.3);

  Summary plain;
  add_edges_and_bends(plain, job, blank, fields);
  EXPECT_NEAR(plain.edge_strain.value, std::log(1.3), 1e-14);
  EXPECT_TRUE(std::isnan(plain.edge_share.value));
  EXPECT_EQ(plain.edge_limit, "not judged: no limit given (cut not stated)");
  EXPECT_NEAR(plain.bend_strain.value, 0.25, 1e-14);
  EXPECT_TRUE(std::isnan(plain.bend_share.value));
  EXPECT_EQ(fields.edge_share.size(), 0);
  EXPECT_EQ(plain.outcome, Outcome::done);

  job.edge_cut = EdgeCut::sheared;
  job.limits.hole_expansion = 0.2;
  job.limits.bend_ratio = 1;
  Summary limited;
  add_edges_and_bends(limited, job, blank, fields);
  EXPECT_NEAR(limited.edge_share.value, std::log(1.3) / std::log(1.2), 1e-12);
  EXPECT_NEAR(limited.bend_share.value, 0.25 / std::log(4.0 / 3), 1e-12);
  EXPECT_EQ(limited.outcome, Outcome::limit_passed);
  EXPECT_EQ(limited.reason, "strain along a cut edge is 1.44 of its limit");
  EXPECT_THAT(limited.edge_limit, HasSubstr("ISO 16630 (sheared)"));
  EXPECT_NEAR(fields.edge_share.maxCoeff(), limited.edge_share.value, 1e-12);
  EXPECT_EQ(limited.edge_share_of, "");  // all edges have one limit
}

TEST(EdgesAndBends, NameTheEdgeWhoseOwnLimitIsUsedMost) {
  Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.05, 0.0, 0.05, 0.0;
  auto fields = fields_with(job, strains);
  auto blank = square_blank(fields, 1.1);
  job.limits.edge_stretch = 0.5;
  job.limits.hole_stretch = 0.08;
  Summary outline;
  add_edges_and_bends(outline, job, blank, fields);
  EXPECT_EQ(outline.edge_share_of, "0.4055 true strain, outline");
  for (auto& kind : blank.edge_kind)
    if (kind == mesh::EdgeKind::outer) kind = mesh::EdgeKind::hole;
  Summary rim;
  add_edges_and_bends(rim, job, blank, fields);
  EXPECT_NEAR(rim.edge_share.value, std::log(1.1) / std::log(1.08), 1e-12);
  EXPECT_EQ(rim.edge_share_of, "0.0770 true strain, rim of a hole");
}

TEST(EdgesAndBends, ALimitJustPassedIsNotOnce) {
  Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.05, 0.0, 0.05, 0.0;
  auto fields = fields_with(job, strains);
  const auto blank = square_blank(fields, 1.3);
  job.limits.edge_stretch = 0.2995;
  Summary summary;
  add_edges_and_bends(summary, job, blank, fields);
  EXPECT_EQ(summary.reason, "strain along a cut edge is 1.0015 of its limit");
}

TEST(SharesByKind, NameTheLimitThatIsUsedMostAndWhereTheSheetMayWrinkle) {
  Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.03, 0.0, 0.02, -0.04;
  auto fields = fields_with(job, strains);
  fields.thickness = Eigen::VectorXd::Constant(2, 1.0);
  fields.gap.resize(2);
  fields.gap << 0, 0.2;
  fields.stress_mid.resize(2, 2);
  fields.stress_mid << 100, 20, 0, -80;
  fields.limit_share(1) = std::nan("");  // beside the points
  Summary summary;
  add_shares_by_kind(summary, job, fields);
  EXPECT_NEAR(summary.governing_share.value, 0.1, 1e-12);
  EXPECT_EQ(summary.governing_kind, "splitting");
  EXPECT_EQ(summary.governing_face, "both");
  ASSERT_TRUE(summary.wrinkling);
  EXPECT_EQ(summary.wrinkling->worst.value, 1);  // uniaxial compression: minor = -2 major
  EXPECT_EQ(summary.wrinkling->loose.value, 1);
  EXPECT_EQ(summary.wrinkling->loose_stress, -80);
  EXPECT_NEAR(summary.wrinkling->area, 0.5, 1e-12);

  fields.gap(1) = 0;
  job.limits.thinning = 0.05;
  add_shares_by_kind(summary, job, fields);
  EXPECT_EQ(summary.wrinkling->loose.value, 0);
  EXPECT_EQ(summary.wrinkling->loose_stress, 0);
  EXPECT_EQ(summary.governing_kind, "thinning");
  EXPECT_EQ(summary.outcome, Outcome::done);  // a tendency is no verdict
}

TEST(SharesByKind, ALimitPassedOnlyAlongThePathTakenIsPassed) {
  const Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.2, 0.0, 0.15, 0.0;
  auto fields = fields_with(job, strains);
  fields.path_share.resize(2);
  fields.path_share << 1.0, 0.2;
  Summary reached;
  add_state(reached, job, fields);
  EXPECT_EQ(reached.outcome, Outcome::done);
  EXPECT_EQ(reached.reason, "");

  fields.path_share(0) = 1.1;
  Summary passed;
  add_state(passed, job, fields);
  EXPECT_EQ(passed.outcome, Outcome::limit_passed);
  EXPECT_EQ(
      passed.reason,
      "strain is 1.10 of the measured forming limit along the path that it took, at (0.7, 0.3, 0.0) mm");
  add_doubts(passed, job.material);
  EXPECT_THAT(passed.warnings, testing::IsEmpty());  // said once
}

TEST(SharesByKind, ALimitPassedStraightOnAndAlongThePathIsToldOfBoth) {
  const Case job = with_points(false);
  Eigen::Matrix2d strains;
  strains << 0.33, 0.0, 0.15, 0.0;
  auto fields = fields_with(job, strains);
  fields.path_share.resize(2);
  fields.path_share << 0.5, 1.2;
  Summary summary;
  add_state(summary, job, fields);
  EXPECT_EQ(
      summary.reason,
      "strain is 1.10 of the measured forming limit on a straight path, at (0.7, 0.3, 0.0) mm; strain is "
      "1.20 of the measured forming limit along the path that it took, at (0.3, 0.7, 0.0) mm");
}

TEST(Credential, NamesTheFactorOfTheStrainRate) {
  Case job = with_points(false);
  EXPECT_THAT(credential(job), testing::Not(HasSubstr("strain rate")));
  job.material.strain_rate = solver::StrainRate{1, 0.001, 0.02};
  EXPECT_THAT(credential(job), HasSubstr("flow stress times 1.148 for strain rate"));
  job.material.strain_rate = solver::StrainRate{std::nullopt, std::nullopt, 0.02};
  EXPECT_THAT(credential(job), testing::Not(HasSubstr("strain rate")));
}

}  // namespace
}  // namespace halftool::io
