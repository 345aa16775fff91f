// The estimates of a case as the program prints and writes them, against answers by hand.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "tests/end_to_end/bracket.hpp"
#include "tests/end_to_end/program.hpp"

namespace halftool::test {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
namespace fs = std::filesystem;

class Reckon : public Program {
 protected:
  /// The groups of the first tool half by name.
  [[nodiscard]] json groups(const std::string& file) const {
    json by_name;
    const json root = json::parse(text_of(work() / file));
    for (const json& group : root["tools"][0]["groups"]) by_name[group["name"]] = group;
    return by_name;
  }
  /// The first value of a quantity.
  static json value(const json& group, const std::string& quantity) {
    for (const json& estimate : group["estimates"])
      if (estimate["value"]["name"] == quantity) return estimate;
    return {};
  }
};

TEST_F(Reckon, BracketAgainstTheHand) {
  write("case.toml", bracket("100 MPa", no_forming_limit));
  const Answer answer = run({"reckon", "case.toml", "--json", "estimates.json"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("bend at +x"));
  EXPECT_THAT(answer.out, HasSubstr("[own arithmetic"));
  EXPECT_THAT(answer.out, HasSubstr("Fluid under pressure injects"));
  const json found = groups("estimates.json");
  // S t^2/(2 L^2) with S = 1.155 205 MPa (0.00139 + 0.002)^0.2 = 75.9 MPa, L = 46 - 27 = 19 mm
  EXPECT_NEAR(value(found["flanges"], "fold starts at")["value"]["value"].get<double>(), 0.269, 0.001);
  EXPECT_NEAR(value(found["sheet"], "locks a flange longer than")["value"]["value"].get<double>(), 23.96,
              0.05);
  const json springback = value(found["flanges"], "opens by");
  EXPECT_NEAR(springback["value"]["value"].get<double>(), 1.35, 0.02);
  EXPECT_NEAR(springback["band"][0].get<double>(), 1.24, 0.02);
  EXPECT_NEAR(springback["band"][1].get<double>(), 1.46, 0.02);
  // Only the computed quarter is reckoned, so one bend.
  EXPECT_EQ(found["flanges"]["estimates"].size(), 3U);
  EXPECT_FALSE(found["inside radii"]["not_found"].empty());
  EXPECT_EQ(std::distance(fs::directory_iterator(work()), {}), 2);  // case and estimates, no run folder
}

TEST_F(Reckon, FlangedHoleFindsItsStretchFlange) {
  const fs::path file = fs::path(SHIPPED_CASES) / "flanged_hole" / "case.toml";
  ASSERT_EQ(run({"reckon", file, "--json", "estimates.json"}).code, 0);
  const json found = groups("estimates.json");
  const json edge = value(found["flanges"], "strain along the cut edge");
  EXPECT_NEAR(edge["value"]["value"].get<double>(), std::log(29.365 / 24), 0.001);
  EXPECT_TRUE(edge["against"].is_null());
  EXPECT_THAT(edge["note"].get<std::string>(), HasSubstr("Not judged"));
  // 60 mm of bore in a block of 140 mm
  const json ring = value(found["tool walls"], "hoop stress");
  EXPECT_NEAR(ring["value"]["value"].get<double>(), 99.97 * (49.0 / 9 + 1) / (49.0 / 9 - 1), 3);
}

TEST_F(Reckon, CavityTellsThePressureOfItsRadiusAndThatThereIsNoFlange) {
  std::string text = bracket("50 MPa", no_forming_limit);
  const auto put = [&](const std::string& old, const std::string& in_its_place) {
    text.replace(text.find(old), old.size(), in_its_place);
  };
  put("rectangle = [\"92 mm\", \"10 mm\"]", "circle = { diameter = \"80 mm\" }\nrim = \"held\"");
  put("kind = \"block\"", "kind = \"cavity\"");
  put("block = { length = \"60 mm\", width = \"10 mm\", height = \"35 mm\", edge_radius = \"3 mm\" }",
      "cavity = { opening_diameter = \"50 mm\", entry_radius = \"6 mm\", depth = \"20 mm\", outer_diameter = "
      "\"100 mm\" }");
  write("case.toml", text);
  const Answer answer = run({"reckon", "case.toml", "--json", "estimates.json"});
  ASSERT_EQ(answer.code, 0) << answer.err;
  EXPECT_THAT(answer.out, HasSubstr("the sheet does not end beyond it, so no flange"));
  const json found = groups("estimates.json");
  EXPECT_TRUE(value(found["flanges"], "fold starts at").is_null());
  EXPECT_FALSE(value(found["flanges"], "opens by").is_null());
}

TEST_F(Reckon, BadInputIsRefusedAndNothingIsWritten) {
  EXPECT_EQ(run({"reckon"}).code, 2);
  EXPECT_EQ(run({"reckon", "missing.toml"}).code, 2);
  std::string text = bracket("100 MPa");
  const std::string thickness = "\"1.6 mm\"";
  write("case.toml", text.replace(text.find(thickness), thickness.size(), "1.6"));
  const Answer answer = run({"reckon", "case.toml", "--json", "estimates.json"});
  EXPECT_EQ(answer.code, 2);
  EXPECT_THAT(answer.err, HasSubstr("sheet.thickness"));
  EXPECT_FALSE(fs::exists(work() / "estimates.json"));
  write("sound.toml", bracket("100 MPa", no_forming_limit));
  const Answer unwritable = run({"reckon", "sound.toml", "--json", "no-such-folder/estimates.json"});
  EXPECT_EQ(unwritable.code, 2);
  EXPECT_THAT(unwritable.err, HasSubstr("cannot write"));
}

}  // namespace
}  // namespace halftool::test
