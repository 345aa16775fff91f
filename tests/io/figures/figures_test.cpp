#include "io/figures/figures.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <numbers>

#include "io/figures/part_picture.hpp"
#include "tests/io/figures/environment.hpp"
#include "tests/io/figures/read_png.hpp"
#include "tests/io/results/bent_strip.hpp"
#include "tests/io/results/result_folder.hpp"

namespace halftool::io {
namespace {

using testing::ElementsAre;

class FigureFiles : public test::ResultFolder {
 protected:
  void SetUp() override {
    ResultFolder::SetUp();
    input_.title = "Invented bracket";
    input_.credential = "invented";
    input_.formed = &strip_.formed;
    input_.released = &strip_.released;
    input_.tool = &strip_.tool;
    input_.limit.points = {{-0.5, 0.75}, {0, 0.25}, {0.5, 0.5}};
    input_.flanges = {{"flange at +x", std::numbers::pi / 2, std::numbers::pi / 2 - 0.05}};
  }

  void draw_with(double path_share) {
    strip_.formed.path_share.setConstant(path_share);
    draw_figures(folder_, input_);
  }

  test::BentStrip strip_ = test::make_bent_strip(40, 12);
  FigureInput input_;
};

TEST_F(FigureFiles, AllAreDrawnWithoutADisplay) {
  const test::Variable no_display("DISPLAY", nullptr);
  const Figures figures = draw_figures(folder_, input_);
  EXPECT_TRUE(figures.notes.empty());
  EXPECT_THAT(figures.files, ElementsAre("thinning.png", "limit_share.png", "release.png", "section.png",
                                         "section.svg", "strains.png", "strains.svg"));
  for (const std::string& name : figures.files) {
    EXPECT_GT(std::filesystem::file_size(folder_ / name), 5000U) << name;
    if (!name.ends_with(".png")) continue;
    const Image image = test::read_png(folder_ / name);
    EXPECT_EQ(image.width, 1600) << name;
    EXPECT_GE(image.height, 700) << name;
    EXPECT_GT(test::distinct_colours(image).size(), 100U) << name;
  }
}

TEST_F(FigureFiles, WithoutAServerChartsRemainAndOneLineSaysWhy) {
  const test::Variable no_display("DISPLAY", nullptr);
  const test::Variable no_programs("PATH", "/nowhere");
  const Figures figures = draw_figures(folder_, input_);
  ASSERT_EQ(figures.notes.size(), 1U);
  EXPECT_THAT(figures.notes[0], testing::HasSubstr("xvfb"));
  EXPECT_THAT(figures.files, ElementsAre("section.png", "section.svg", "strains.png", "strains.svg"));
}

TEST_F(FigureFiles, WhatTheJobDidNotReachIsLeftOut) {
  input_.released = nullptr;
  input_.tool = nullptr;
  input_.limit.points.clear();
  EXPECT_THAT(draw_figures(folder_, input_).files, ElementsAre("thinning.png", "section.png", "section.svg"));
  EXPECT_TRUE(draw_figures(folder_, FigureInput{}).files.empty());
}

std::string text_of(const std::filesystem::path& file) {
  std::ifstream stream(file);
  return {std::istreambuf_iterator<char>(stream), {}};
}

// The chart of strains shows the straight path's share: its words name the other where it is larger.
TEST_F(FigureFiles, TheSmallerShareDoesNotStandForTheLimit) {
  const test::Variable no_programs("PATH", "/nowhere");  // charts alone
  const test::Variable no_display("DISPLAY", nullptr);
  const auto drawn = [&](double path_share) {
    draw_with(path_share);
    return text_of(folder_ / "strains.svg");
  };
  const std::string smaller = drawn(0.001);
  EXPECT_TRUE(drawn(0.002) == smaller);
  EXPECT_FALSE(drawn(1.07) == smaller);  // letters are drawn as outlines: no text to look for
}

TEST_F(FigureFiles, TheLargerShareColoursThePart) {
  const test::Variable no_display("DISPLAY", nullptr);
  const auto drawn = [&](double path_share) {
    draw_with(path_share);
    return test::read_png(folder_ / "limit_share.png");
  };
  const Image smaller = drawn(0.001);
  EXPECT_TRUE(drawn(0.002).rgb == smaller.rgb);
  const Image larger = drawn(1.07);
  ASSERT_EQ(larger.rgb.size(), smaller.rgb.size());
  std::size_t different = 0;
  const std::size_t below_the_words = larger.rgb.size() / 8;
  for (std::size_t i = below_the_words; i < larger.rgb.size(); ++i)
    different += larger.rgb[i] != smaller.rgb[i] ? 1 : 0;
  EXPECT_GT(different, larger.rgb.size() / 50);  // the part, which is hatched then, and not its mark alone
}

TEST_F(FigureFiles, TheEyeStandsWhereTheFoldIsSeen) {
  DrawnSheet sheet = take_sheet(strip_.formed);
  const Eigen::Vector3d from = view_side(sheet);
  EXPECT_GT(from.x(), 0);               // the flange hangs at +x
  sheet.positions.leftCols<2>() *= -1;  // half a turn about z
  EXPECT_LT(view_side(sheet).x(), 0);
  sheet.positions.col(2) *= -1;  // the flange stands up: a hollow seen from the pad
  EXPECT_GT(view_side(sheet).z(), from.z());
}

TEST_F(FigureFiles, AHalfModelIsDrawnWhole) {
  // Half the strip, its cut edge on y = 0, and the whole strip give nearly the same picture.
  const test::Variable no_display("DISPLAY", nullptr);
  draw_figures(folder_, input_);
  const Image whole = test::read_png(folder_ / "thinning.png");
  mesh::Triangles half(strip_.formed.triangles.rows(), 3);
  Eigen::Index count = 0;
  std::vector<Eigen::Index> kept;
  for (Eigen::Index t = 0; t < strip_.formed.triangles.rows(); ++t) {
    double lowest = 0;
    for (int i = 0; i < 3; ++i)
      lowest = std::min(lowest, strip_.formed.positions(strip_.formed.triangles(t, i), 1));
    if (lowest < -1e-9) continue;
    half.row(count++) = strip_.formed.triangles.row(t);
    kept.push_back(t);
  }
  half.conservativeResize(count, 3);
  solver::SheetFields fields = strip_.formed;
  fields.thickness = strip_.formed.thickness(kept).eval();
  fields.thinning = strip_.formed.thinning(kept).eval();
  fields.limit_share = strip_.formed.limit_share(kept).eval();
  fields.path_share = strip_.formed.path_share(kept).eval();
  fields.strain_mid = strip_.formed.strain_mid(kept, Eigen::all).eval();
  // Nodes of the other half belong to no triangle: move them onto the plane, where nothing is drawn.
  fields.positions.col(1) = fields.positions.col(1).cwiseMax(0.0).eval();
  fields.triangles = half;
  input_.formed = &fields;
  input_.released = nullptr;
  input_.symmetric_y = true;
  draw_figures(folder_, input_);
  const Image mirrored = test::read_png(folder_ / "thinning.png");
  ASSERT_EQ(mirrored.rgb.size(), whole.rgb.size());
  int different = 0;
  for (std::size_t i = 0; i < whole.rgb.size(); ++i)
    different += std::abs(whole.rgb[i] - mirrored.rgb[i]) > 24;
  EXPECT_LT(different, 0.01 * static_cast<double>(whole.rgb.size()));
}

}  // namespace
}  // namespace halftool::io
