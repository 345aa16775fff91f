#include "io/figures/variant_chart.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

VariantRow row(const std::string& material, const std::string& hardening, double angle) {
  VariantRow made;
  made.label = material;
  made.outcome = "done";
  made.material = material;
  made.hardening = hardening;
  made.grade = "guessed";
  made.thickness = 1.2;
  made.thinning = 0.01;
  made.springback["flange at +x"] = angle;
  return made;
}

std::string drawn(const std::string& name, const std::vector<VariantRow>& rows) {
  const halftool::test::ScratchFolder folder;
  const auto path = folder.path() / name;
  draw_variants(path, {"Title", "finding", "foot"}, rows);
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

int height_of(const std::string& svg) {
  const auto at = svg.find("height=\"") + 8;
  return std::stoi(svg.substr(at));
}

TEST(VariantChart, IsTheSameEachTime) {
  const std::vector<VariantRow> rows = {row("A", "kinematic", -2), row("A", "isotropic", -1)};
  EXPECT_EQ(drawn("halftool-variants.svg", rows), drawn("halftool-variants.svg", rows));
  EXPECT_GT(drawn("halftool-variants.png", rows).size(), 5000U);
}

// The same sheet twice is one group; another thickness is another.
TEST(VariantChart, GroupsTheSameSheetWithItsTwoKindsOfHardening) {
  const auto one = drawn("halftool-one.svg", {row("A", "kinematic", -2), row("A", "isotropic", -1)});
  const auto two = drawn("halftool-two.svg", {row("A", "kinematic", -2), row("B", "isotropic", -1)});
  EXPECT_LT(height_of(one), height_of(two));
  VariantRow thick = row("A", "isotropic", -1);
  thick.thickness = 2;
  EXPECT_EQ(height_of(drawn("halftool-two.svg", {row("A", "kinematic", -2), thick})), height_of(two));
}

// Bars of one group are held against one limit.
TEST(VariantChart, PutsSheetsWithAnotherKindOfLimitApart) {
  std::vector<VariantRow> rows = {row("A", "kinematic", -2), row("A", "isotropic", -1)};
  const auto one = drawn("halftool-one.svg", rows);
  rows[0].limit_kind = "measured";
  rows[1].limit_kind = "estimated";
  EXPECT_LT(height_of(one), height_of(drawn("halftool-two.svg", rows)));
}

// The share where any sheet has a bend limit, for the strain alone does not tell who is past it.
TEST(VariantChart, DrawsTheShareOfTheBendLimitWhereThereIsOne) {
  VariantRow strained = row("A", "isotropic", -1), judged = strained, same_share = strained;
  strained.bend_strain = judged.bend_strain = 0.2;
  same_share.bend_strain = 0.1;
  judged.bend_share = same_share.bend_share = 2.6;
  EXPECT_NE(drawn("halftool-bends.svg", {strained}), drawn("halftool-bends.svg", {judged}));
  EXPECT_EQ(drawn("halftool-bends.svg", {same_share}), drawn("halftool-bends.svg", {judged}));
}

TEST(VariantChart, DrawsTheLargerShareOfTheFormingLimit) {
  VariantRow straight = row("A", "isotropic", -1), along_path = straight;
  straight.limit_share = 1.2;
  along_path.limit_share = 0.3;
  along_path.path_share = 1.2;
  EXPECT_TRUE(drawn("halftool-one.svg", {straight}) == drawn("halftool-two.svg", {along_path}));
}

TEST(VariantChart, LeavesOutWhatNoRunHasAndKeepsARunThatFailed) {
  VariantRow failed = row("B", "isotropic", 0);
  failed.outcome = "not completed";
  failed.springback.clear();
  failed.thinning = std::nan("");
  const std::vector<VariantRow> rows = {row("A", "kinematic", -2), failed};
  std::vector<VariantRow> judged = rows;
  judged[0].limit_share = 1.2;
  EXPECT_LT(drawn("halftool-few.svg", rows).size(), drawn("halftool-more.svg", judged).size());
  EXPECT_NO_THROW(drawn("halftool-none.svg", {failed}));
}

// Names that do not fit stay legible: the run's label stands in their place. Without one the drawing is that
// of a label as long, cut off.
TEST(VariantChart, ALongNameGivesWayToTheLabel) {
  VariantRow named = row("A", "isotropic", -1);
  named.label = "AA6061-O, 1.2 mm";
  VariantRow plain = named;
  plain.material = named.label;
  named.material = std::string(40, 'a') + ' ' + std::string(40, 'b') + ' ' + std::string(40, 'c');
  EXPECT_TRUE(drawn("halftool-one.svg", {named}) == drawn("halftool-two.svg", {plain}));
}

TEST(VariantChart, SaysWhereItCannotWrite) {
  EXPECT_THROW(draw_variants("/nowhere/at/all.svg", {}, {row("A", "kinematic", -2)}), WriteError);
}

}  // namespace
}  // namespace halftool::io
