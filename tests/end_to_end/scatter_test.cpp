// The runs over the scatter of a case.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"

namespace halftool::test {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
namespace fs = std::filesystem;

class Scatter : public Program {};

TEST_F(Scatter, StrengthMovesTheSpringbackOfABend) {
  write("case.toml", bracket("2 MPa", std::string(no_forming_limit) +
                                          "[scatter]\nthickness = \"0.08 mm\"\nstrength = \"8 %\"\n"));
  const Answer answer = run({"scatter", "case.toml", "--out", "bands"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("5 runs over its scatter"));
  const json table = json::parse(text_of(work() / "bands" / "scatter.json"));
  ASSERT_EQ(table["runs"].size(), 5U);
  EXPECT_EQ(table["runs"][0]["label"], "middle");
  EXPECT_EQ(table["runs"][1]["label"], "thickness low, strength low");
  EXPECT_NEAR(table["runs"][1]["thickness_mm"].get<double>(), 1.52, 1e-9);
  const json effects = json::parse(text_of(work() / "bands" / "effects.json"));
  const json& springback = effects["results"][0];
  EXPECT_THAT(springback["name"].get<std::string>(), HasSubstr("springback"));
  EXPECT_LT(springback["least"].get<double>(), springback["middle"].get<double>());
  EXPECT_GT(springback["most"].get<double>(), springback["middle"].get<double>());
  ASSERT_EQ(springback["effects"].size(), 2U);
  for (const json& effect : springback["effects"])
    if (effect["factor"].get<std::string>().starts_with("strength")) {
      EXPECT_LT(effect["change"].get<double>(), 0);  // a stronger sheet opens further
    } else {
      EXPECT_NE(effect["change"].get<double>(), 0);
    }
  EXPECT_TRUE(fs::exists(work() / "bands" / "effects.csv"));
}

TEST_F(Scatter, ExponentAndFrictionGiveTheUseOfTheFormingLimitAsABand) {
  write("case.toml", bracket("2 MPa", "[scatter]\nexponent = \"20 %\"\nfriction = \"50 %\"\n"));
  const Answer answer = run({"scatter", "case.toml", "--out", "bands"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  const json effects = json::parse(text_of(work() / "bands" / "effects.json"));
  const auto of_limit =
      std::find_if(effects["results"].begin(), effects["results"].end(),
                   [](const json& result) { return result["name"] == "share of the forming limit"; });
  ASSERT_NE(of_limit, effects["results"].end()) << effects.dump(1);
  EXPECT_GT((*of_limit)["least"].get<double>(), 0);
  EXPECT_LT((*of_limit)["least"].get<double>(), (*of_limit)["middle"].get<double>());
  EXPECT_GT((*of_limit)["most"].get<double>(), (*of_limit)["middle"].get<double>());
  ASSERT_EQ((*of_limit)["effects"].size(), 2U);
  const json& exponent = (*of_limit)["effects"][0];
  EXPECT_THAT(exponent["factor"].get<std::string>(), HasSubstr("exponent"));
  EXPECT_LT(exponent["change"].get<double>(), 0);  // what hardens more necks later
}

TEST_F(Scatter, NothingStatedAndBadRangesAreRefused) {
  write("case.toml", bracket("2 MPa", no_forming_limit));
  const Answer none = run({"scatter", "case.toml"});
  EXPECT_EQ(none.code, 2);
  EXPECT_THAT(none.err, HasSubstr("[scatter]"));
  write("thick.toml",
        bracket("2 MPa", std::string(no_forming_limit) + "[scatter]\nthickness = \"1.5 mm\"\n"));
  const Answer thick = run({"scatter", "thick.toml"});
  EXPECT_EQ(thick.code, 2);
  EXPECT_THAT(thick.err, HasSubstr("scatter.thickness"));
  std::string surfaces = bracket("2 MPa", std::string(no_forming_limit) + "[scatter]\nexponent = \"10 %\"\n");
  const std::string swift = "swift = { strength = \"205 MPa\", pre_strain = 0.00139, exponent = 0.20 }";
  surfaces.replace(
      surfaces.find(swift), swift.size(),
      "yoshida_uemori = { yield = \"55 MPa\", bound = \"70 MPa\", bound_shift = \"9 MPa\", bound_gain = "
      "\"70 MPa\", bound_rate = 12, approach = 500, stagnation = 0.5 }");
  write("surfaces.toml", surfaces);
  const Answer law = run({"scatter", "surfaces.toml"});
  EXPECT_EQ(law.code, 2);
  EXPECT_THAT(law.err, HasSubstr("scatter.exponent"));
}

}  // namespace
}  // namespace halftool::test
