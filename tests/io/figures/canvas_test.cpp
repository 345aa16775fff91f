#include "io/figures/canvas.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/io/figures/read_png.hpp"
#include "tests/io/results/result_folder.hpp"

namespace halftool::io {
namespace {

using Pixel = std::tuple<int, int, int>;

class CanvasFile : public test::ResultFolder {
 protected:
  std::string draw(const std::string& name) {
    Canvas canvas(folder_ / name, 200, 100);
    canvas.fill(rectangle(10, 10, 60, 60), {1, 0, 0});
    canvas.hatch(rectangle(70, 10, 120, 60), {{0, 0, 0}, 2, {}}, 10, 0);
    canvas.text({20, 90}, "gap", {.size = 20, .colour = {0, 0, 0}});
    canvas.save();
    std::ifstream in(folder_ / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }
};

TEST_F(CanvasFile, PngHoldsWhatWasDrawn) {
  draw("a.png");
  const Image image = test::read_png(folder_ / "a.png");
  ASSERT_EQ(image.width, 200);
  ASSERT_EQ(image.height, 100);
  EXPECT_EQ(test::pixel(image, 30, 30), Pixel(255, 0, 0));
  EXPECT_EQ(test::pixel(image, 150, 30), Pixel(255, 255, 255));
  EXPECT_EQ(test::pixel(image, 90, 25), Pixel(255, 255, 255));   // between two lines of the hatch
  EXPECT_EQ(test::pixel(image, 90, 30), Pixel(0, 0, 0));         // on one
  EXPECT_EQ(test::pixel(image, 125, 30), Pixel(255, 255, 255));  // outside its polygon
}

TEST_F(CanvasFile, SameDrawingSameBytes) {
  EXPECT_TRUE(draw("a.png") == draw("b.png"));
  EXPECT_TRUE(draw("a.svg") == draw("b.svg"));
}

TEST_F(CanvasFile, SvgIsWhole) {
  const std::string svg = draw("a.svg");
  EXPECT_THAT(svg, testing::HasSubstr("<svg"));
  EXPECT_THAT(svg, testing::HasSubstr("viewBox=\"0 0 200 100\""));
  EXPECT_THAT(svg, testing::EndsWith("</svg>\n"));
}

TEST_F(CanvasFile, UnwritablePathIsNamed) {
  EXPECT_THROW(draw("none/a.png"), WriteError);
}

TEST_F(CanvasFile, LaidImageComesBack) {
  Canvas canvas(folder_ / "a.png", 2, 1);
  canvas.lay({2, 1, {1, 2, 3, 250, 128, 0}});
  canvas.save();
  const Image image = test::read_png(folder_ / "a.png");
  EXPECT_EQ(test::pixel(image, 0, 0), Pixel(1, 2, 3));
  EXPECT_EQ(test::pixel(image, 1, 0), Pixel(250, 128, 0));
}

}  // namespace
}  // namespace halftool::io
