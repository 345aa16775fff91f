// The runs over the scatter of a case.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

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
  std::string voce = bracket("2 MPa", std::string(no_forming_limit) + "[scatter]\nexponent = \"10 %\"\n");
  const std::string swift = "swift = { strength = \"205 MPa\", pre_strain = 0.00139, exponent = 0.20 }";
  voce.replace(voce.find(swift), swift.size(),
               "voce = { initial = \"55 MPa\", saturation = \"150 MPa\", rate = 10 }");
  write("voce.toml", voce);
  const Answer law = run({"scatter", "voce.toml"});
  EXPECT_EQ(law.code, 2);
  EXPECT_THAT(law.err, HasSubstr("scatter.exponent"));
}

}  // namespace
}  // namespace halftool::test
