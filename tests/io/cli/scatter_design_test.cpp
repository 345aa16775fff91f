// The runs of a designed set: what moves in each, and by how much.
#include "io/cli/scatter_design.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "solver/material/hardening.hpp"
#include "tests/end_to_end/bracket.hpp"

namespace halftool::io {
namespace {

Case scattering(const std::string& ranges) {
  return parse_case(test::bracket("50 MPa", "[scatter]\n" + ranges), "case.toml");
}

double stress(const Case& job, double strain) {
  return solver::flow_stress(job.material.hardening, strain).stress;
}

TEST(ScatterDesign, MovesThicknessStrengthExponentAndFrictionToTheirEnds) {
  const Case job =
      scattering("thickness = \"0.05 mm\"\nstrength = \"10 %\"\nexponent = \"20 %\"\nfriction = \"40 %\"\n");
  const TwoLevelDesign design = scatter_design(job);
  ASSERT_EQ(design.signs.size(), 16U);
  const auto variants = scatter_variants(job, design);
  ASSERT_EQ(variants.size(), 17U);
  EXPECT_EQ(variants.front().label, "middle");
  EXPECT_EQ(variants.front().job.blank.thickness, job.blank.thickness);
  for (std::size_t run = 0; run < design.signs.size(); ++run) {
    const std::vector<int>& signs = design.signs[run];
    const Case& moved = variants[run + 1].job;
    EXPECT_DOUBLE_EQ(moved.blank.thickness, job.blank.thickness + 0.05 * signs[0]) << run;
    EXPECT_DOUBLE_EQ(moved.press.tool_friction, job.press.tool_friction * (1 + 0.4 * signs[3])) << run;
    // the exponent keeps the stress at a strain of 0.1, so that strength alone moves it
    EXPECT_NEAR(stress(moved, 0.1), stress(job, 0.1) * (1 + 0.1 * signs[1]), 1e-9) << run;
    const double steepness = stress(moved, 0.3) / stress(moved, 0.1) - stress(job, 0.3) / stress(job, 0.1);
    EXPECT_GT(steepness * signs[2], 0) << run;
    EXPECT_NE(variants[run + 1].label.find(signs[3] < 0 ? "friction low" : "friction high"),
              std::string::npos);
  }
  // balanced: each end of each as often, and no run twice
  for (std::size_t factor = 0; factor < 4; ++factor)
    EXPECT_EQ(std::count_if(design.signs.begin(), design.signs.end(),
                            [&](const auto& signs) { return signs[factor] < 0; }),
              8);
}

TEST(ScatterDesign, FrictionOfZonesMovesWithTheRest) {
  Case job = scattering("friction = \"50 %\"\n");
  job.friction_zones.push_back({});
  job.friction_zones.back().mu = 0.2;
  const auto variants = scatter_variants(job, scatter_design(job));
  ASSERT_EQ(variants.size(), 3U);
  for (const CaseVariant& variant : {variants[1], variants[2]})
    EXPECT_DOUBLE_EQ(variant.job.friction_zones.back().mu / 0.2,
                     variant.job.press.tool_friction / job.press.tool_friction);
}

}  // namespace
}  // namespace halftool::io
