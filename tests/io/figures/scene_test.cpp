#include "io/figures/scene.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/io/figures/read_png.hpp"

namespace halftool::io {
namespace {

using Pixel = std::tuple<int, int, int>;

/// Square of side 10 in the plane y = depth, facing -y.
Surface square(double depth, double left = -5) {
  Surface surface;
  surface.points.resize(4, 3);
  surface.points << left, depth, -5, left + 10, depth, -5, left + 10, depth, 5, left, depth, 5;
  surface.triangles.resize(2, 3);
  surface.triangles << 0, 1, 2, 0, 2, 3;
  surface.lit = false;
  return surface;
}

/// Looks along +y; 20 mm across a picture of 100 px.
Camera front() {
  Camera camera;
  camera.width = camera.height = 100;
  camera.mm_per_px = 0.2;
  return camera;
}

class Scene : public testing::Test {
 protected:
  void SetUp() override { ASSERT_TRUE(display_.available()) << display_.reason(); }
  Display display_;
};

TEST_F(Scene, ConstantFieldHasItsRampColour) {
  for (const double share : {0.0, 0.37, 1.0}) {
    Surface surface = square(0);
    surface.shares = Eigen::VectorXd::Constant(4, share);
    const Image image = render(display_, {surface}, front());
    const auto [r, g, b] = test::pixel(image, 50, 50);
    const Rgb wanted = ramp_colour(share);
    EXPECT_NEAR(r, 255 * wanted.r, 1.5);
    EXPECT_NEAR(g, 255 * wanted.g, 1.5);
    EXPECT_NEAR(b, 255 * wanted.b, 1.5);
    EXPECT_EQ(test::pixel(image, 10, 50), Pixel(255, 255, 255));
  }
}

TEST_F(Scene, CameraAndPictureAgree) {
  Surface surface = square(0);
  surface.colour = {0, 0, 0};
  const Camera camera = front();
  const Image image = render(display_, {surface}, camera);
  const Eigen::Vector2d corner = camera.project({5, 0, 5});
  EXPECT_EQ(corner, Eigen::Vector2d(75, 25));
  EXPECT_EQ(test::pixel(image, 74, 25), Pixel(0, 0, 0));
  EXPECT_EQ(test::pixel(image, 75, 25), Pixel(255, 255, 255));
  EXPECT_EQ(test::pixel(image, 74, 24), Pixel(255, 255, 255));
}

TEST_F(Scene, NearHidesFarAndClipCuts) {
  Surface near = square(-1, 0), far = square(1);
  near.colour = {1, 0, 0};
  far.colour = {0, 0, 1};
  Image image = render(display_, {near, far}, front());
  EXPECT_EQ(test::pixel(image, 60, 50), Pixel(255, 0, 0));
  EXPECT_EQ(test::pixel(image, 40, 50), Pixel(0, 0, 255));
  near.clip = {Eigen::Vector3d(4, -9, -9), Eigen::Vector3d(9, 9, 9)};
  image = render(display_, {near, far}, front());
  EXPECT_EQ(test::pixel(image, 60, 50), Pixel(0, 0, 255));
  EXPECT_EQ(test::pixel(image, 73, 50), Pixel(255, 0, 0));
}

TEST_F(Scene, OverIsBlackUnderAWhiteHatch) {
  Surface surface = square(0);
  surface.hatched = true;
  const Image image = render(display_, {surface}, front());
  int dark = 0, light = 0;
  for (int y = 30; y < 70; ++y)
    for (int x = 30; x < 70; ++x) {
      const int red = std::get<0>(test::pixel(image, x, y));
      dark += red < 60;
      light += red > 195;
    }
  EXPECT_GT(dark, 400);  // of 1600
  EXPECT_GT(light, 150);
}

TEST_F(Scene, NoValueIsGrey) {
  Surface surface = square(0);
  surface.shares = Eigen::VectorXd::Constant(4, NAN);
  const auto [r, g, b] = test::pixel(render(display_, {surface}, front()), 50, 50);
  EXPECT_NEAR(r, 255 * no_value.r, 1.5);
  EXPECT_EQ(r, b);
}

TEST_F(Scene, SameSceneSameBytes) {
  Surface surface = square(0);
  surface.lit = true;
  surface.shares = Eigen::Vector4d(0, 0.3, 1, 0.5);
  EXPECT_EQ(render(display_, {surface}, front()).rgb, render(display_, {surface}, front()).rgb);
}

TEST(Camera, AimFitsThePointsIntoTheWindow) {
  mesh::Points points(8, 3);
  for (int n = 0; n < 8; ++n) points.row(n) << 100 * (n & 1), 50 * (n >> 1 & 1), 20 * (n >> 2 & 1);
  const Eigen::AlignedBox2d window(Eigen::Vector2d(70, 140), Eigen::Vector2d(1330, 900));
  const Camera camera = aim({0.8, -0.6, 0.6}, points, 1600, 1000, window);
  Eigen::AlignedBox2d seen;
  for (int n = 0; n < 8; ++n) seen.extend(camera.project(points.row(n)));
  EXPECT_TRUE(seen.center().isApprox(window.center(), 1e-9));
  EXPECT_NEAR(std::max(seen.sizes().x() / window.sizes().x(), seen.sizes().y() / window.sizes().y()), 1,
              1e-9);
  EXPECT_GT(camera.up.z(), 0);
}

}  // namespace
}  // namespace halftool::io
