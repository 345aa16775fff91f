#include "mesh/tool_surface.hpp"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <random>
#include <thread>

#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
using testing::SurfacePoint;
using testing::tool_over_square;

constexpr double pi = std::numbers::pi;
constexpr double radius = 3;

/// Quarter of a cylinder along y, 6 degrees and 4 mm a cell.
SurfacePoint on_cylinder(double u, double v) {
  const double angle = pi / 2 * u;
  const Vector3d n(std::sin(angle), 0, std::cos(angle));
  return {radius * n + Vector3d(0, 40 * v, 0), n};
}

/// Part of a torus: tube of 4 mm about a ring of 30 mm, convex and saddle side.
SurfacePoint on_torus(double u, double v) {
  const double ring = 0.6 * (u - 0.5);
  const double tube = 3.0 * (0.5 - v);
  const Vector3d out(std::sin(ring), -std::cos(ring), 0);
  const Vector3d n = std::sin(tube) * out + std::cos(tube) * Vector3d::UnitZ();
  return {30 * out + 4 * n, n};
}

Vector3d normal_at(const ToolSurface& tool, const Vector3d& x) {
  return tool.nearest(x, 10)->normal;
}

TEST(Nearest, OnACylinderOfSixDegreeFacets) {
  for (const double jitter : {0.0, 0.6}) {
    const ToolSurface tool = tool_over_square(15, 10, jitter, on_cylinder);
    double gap_error = 0, normal_error = 0, curvature_error = 0;
    for (int k = 0; k < 3000; ++k) {
      const double angle = pi / 2 * (0.05 + 0.9 * std::fmod(k * 0.618034, 1.0));
      const double gap = -0.05 + 1.5 * std::fmod(k * 0.414214, 1.0);
      const Vector3d n(std::sin(angle), 0, std::cos(angle));
      const Vector3d x = (radius + gap) * n + Vector3d(0, 2 + 36 * std::fmod(k * 0.732051, 1.0), 0);

      const auto point = tool.nearest(x, 3);

      ASSERT_TRUE(point.has_value());
      gap_error = std::max(gap_error, std::abs(point->gap - gap));
      normal_error = std::max(normal_error, (point->normal - n).norm());
      const Vector3d along(std::cos(angle), 0, -std::sin(angle));
      const Eigen::Matrix3d exact = along * along.transpose() / (radius + gap);
      curvature_error = std::max(curvature_error, (point->normal_gradient - exact).norm() * (radius + gap));
    }
    RecordProperty("gap_error_over_radius", std::to_string(gap_error / radius));
    const double turn = jitter > 0 ? 1.6 : 1.0;  // jitter makes facets up to 1.6 cells wide
    EXPECT_LT(gap_error, 1.2e-6 * radius * std::pow(turn, 4));
    EXPECT_LT(normal_error, 3e-5 * std::pow(turn, 3));
    EXPECT_LT(curvature_error, 3e-3 * turn * turn);
  }
}

TEST(Nearest, NeedleFacetsAlongACylinderBehave) {
  const auto needle = [](double u, double v) {
    SurfacePoint point = on_cylinder(u, v);
    point.place.y() *= 10;  // 400 mm in two cells: 600 times as long as wide
    return point;
  };
  const ToolSurface tool = tool_over_square(15, 2, 0.5, needle);
  for (int k = 0; k < 2000; ++k) {
    const double angle = pi / 2 * (0.05 + 0.9 * std::fmod(k * 0.618034, 1.0));
    const Vector3d n(std::sin(angle), 0, std::cos(angle));
    const auto point =
        tool.nearest((radius + 0.5) * n + Vector3d(0, 4 + 392 * std::fmod(k * 0.732051, 1.0), 0), 3);
    ASSERT_TRUE(point.has_value());
    EXPECT_NEAR(point->gap, 0.5, 1e-5 * radius);
    EXPECT_LT((point->normal - n).norm(), 2e-4);
  }
}

TEST(Nearest, GapAndNormalDoNotJumpBetweenFacets) {
  const ToolSurface tool = tool_over_square(20, 40, 0.5, on_torus);
  std::mt19937 random(11);
  std::uniform_real_distribution<double> uniform(0.1, 0.9);
  int n_crossings = 0;
  for (int path = 0; path < 40; ++path) {
    const SurfacePoint first = on_torus(uniform(random), uniform(random));
    const SurfacePoint last = on_torus(uniform(random), uniform(random));
    const auto place = [&](double s) -> Vector3d {
      const double gap = 0.8 - 0.2 * s;
      Vector3d x = (1 - s) * first.place + s * last.place;  // a chord, put back to the gap above the surface
      x += (gap - tool.nearest(x, 20)->gap) * normal_at(tool, x);
      return x;
    };
    const int n = 200;
    for (int i = 0; i < n; ++i) {
      Vector3d low = place(i / static_cast<double>(n)), high = place((i + 1) / static_cast<double>(n));
      const int facet = tool.nearest(low, 10)->facet;
      if (tool.nearest(high, 10)->facet == facet) continue;
      while ((high - low).norm() > 1e-12) {
        const Vector3d middle = 0.5 * (low + high);
        if (middle == low || middle == high) break;
        (tool.nearest(middle, 10)->facet == facet ? low : high) = middle;
      }
      const auto a = tool.nearest(low, 10), b = tool.nearest(high, 10);
      ++n_crossings;
      EXPECT_LT(std::abs(a->gap - b->gap), 1e-11);
      EXPECT_LT((a->normal - b->normal).norm(), 1e-9);
    }
  }
  EXPECT_GT(n_crossings, 500);
}

TEST(Nearest, GradientsMatchFiniteDifferences) {
  const ToolSurface tool = tool_over_square(20, 40, 0.5, on_torus);
  std::mt19937 random(13);
  std::uniform_real_distribution<double> uniform(0.1, 0.9);
  double gap_error = 0, asymmetry = 0;
  int n_checked = 0;
  for (int k = 0; k < 300; ++k) {
    const SurfacePoint point = on_torus(uniform(random), uniform(random));
    const Vector3d x = point.place + (uniform(random) - 0.2) * point.normal;
    const auto here = tool.nearest(x, 5);
    ASSERT_TRUE(here.has_value());
    const double step = 1e-6;
    Vector3d gap_slope;
    Eigen::Matrix3d normal_slope;
    bool one_facet = true;
    for (int i = 0; i < 3; ++i) {
      const auto plus = tool.nearest(x + step * Vector3d::Unit(i), 5);
      const auto minus = tool.nearest(x - step * Vector3d::Unit(i), 5);
      one_facet = one_facet && plus->facet == here->facet && minus->facet == here->facet;
      gap_slope(i) = (plus->gap - minus->gap) / (2 * step);
      normal_slope.col(i) = (plus->normal - minus->normal) / (2 * step);
    }
    if (!one_facet) continue;
    ++n_checked;
    gap_error = std::max(gap_error, (gap_slope - here->normal).norm());
    asymmetry = std::max(asymmetry, (normal_slope - normal_slope.transpose()).norm());
    const Eigen::Matrix3d symmetric = 0.5 * (normal_slope + normal_slope.transpose());
    EXPECT_LT((symmetric - here->normal_gradient).norm(), 1e-7);
    EXPECT_LT((here->normal_gradient - here->normal_gradient.transpose()).norm(), 1e-15);
  }
  EXPECT_GT(n_checked, 250);
  RecordProperty("gap_slope_minus_normal", std::to_string(gap_error));
  RecordProperty("asymmetry", std::to_string(asymmetry));
  EXPECT_LT(gap_error, 3e-3);  // the facets' own error: interpolated normal against the normal of the patch
}

TEST(Nearest, AroundABoxIsItsExactDistance) {
  const Vector3d half(5, 4, 3);
  const ToolSurface tool = testing::box_tool(half);
  std::mt19937 random(17);
  std::uniform_real_distribution<double> uniform(-1.4, 1.4);
  int n_faces = 0, n_edges = 0, n_corners = 0;
  for (int k = 0; k < 20000; ++k) {
    const Vector3d x(uniform(random) * 5, uniform(random) * 4, uniform(random) * 3);
    const double exact = testing::box_distance(half, x);
    if (exact < -1) continue;

    const auto point = tool.nearest(x, 10);

    ASSERT_TRUE(point.has_value());
    EXPECT_NEAR(point->gap, exact, 1e-12) << x.transpose();
    EXPECT_NEAR(point->normal.norm(), 1, 1e-12);
    const long n_beyond = ((x.cwiseAbs() - half).array() > 0).count();
    if (n_beyond > 0) {
      const Vector3d foot = x.cwiseMax(-half).cwiseMin(half);
      EXPECT_LT((x - point->gap * point->normal - foot).norm(), 1e-12);
      EXPECT_NEAR(point->normal_gradient.trace(), static_cast<double>(n_beyond - 1) / exact, 1e-9 / exact);
    }
    (n_beyond == 1 ? n_faces : n_beyond == 2 ? n_edges : n_corners) += n_beyond > 0 ? 1 : 0;
  }
  EXPECT_GT(n_faces, 1000);
  EXPECT_GT(n_edges, 1000);
  EXPECT_GT(n_corners, 100);
}

TEST(Nearest, FallsSilentBeyondAnOpenBorderAndOutOfReach) {
  const auto plate = [](double u, double v) { return SurfacePoint{{10 * u, 10 * v, 0}, Vector3d::UnitZ()}; };
  const ToolSurface tool = tool_over_square(3, 3, 0.3, plate);
  EXPECT_NEAR(tool.nearest({0.01, 5, 0.5}, 1)->gap, 0.5, 1e-14);
  EXPECT_NEAR(tool.nearest({9.99, 9.99, -0.5}, 1)->gap, -0.5, 1e-14);
  EXPECT_FALSE(tool.nearest({-0.01, 5, 0.5}, 1).has_value());
  EXPECT_FALSE(tool.nearest({10.01, 10.01, 0.5}, 1).has_value());
  EXPECT_FALSE(tool.nearest({5, 5, 1.01}, 1).has_value());
  EXPECT_TRUE(tool.nearest({5, 5, 0.99}, 1).has_value());
}

TEST(Nearest, ThreadsGetTheSameBitsAsOne) {
  const ToolSurface tool = tool_over_square(20, 40, 0.5, on_torus);
  std::vector<Vector3d> points;
  for (int k = 0; k < 20000; ++k) {
    const SurfacePoint p = on_torus(std::fmod(k * 0.618034, 1.0), std::fmod(k * 0.414214, 1.0));
    points.push_back(p.place + 0.5 * p.normal);
  }
  const auto run = [&](std::vector<double>& gaps) {
    for (const auto& x : points) {
      const auto point = tool.nearest(x, 2);
      gaps.push_back(point ? point->gap + 3 * point->normal.x() + point->facet : -1);
    }
  };
  std::vector<std::vector<double>> results(5);
  run(results[0]);
  std::vector<std::thread> threads;
  for (std::size_t i = 1; i < 5; ++i) threads.emplace_back([&, i] { run(results[i]); });
  for (auto& thread : threads) thread.join();
  for (std::size_t i = 1; i < 5; ++i) EXPECT_EQ(results[i], results[0]);
}

TEST(ToolSurface, RefusesMissingAndUnnormalisedNormals) {
  SurfaceMesh mesh;
  mesh.nodes.resize(3, 3);
  mesh.nodes << 0, 0, 0, 1, 0, 0, 0, 1, 0;
  mesh.triangles.resize(1, 3);
  mesh.triangles << 0, 1, 2;
  EXPECT_THROW(ToolSurface(mesh, Points::Zero(2, 3)), MeshError);
  EXPECT_THAT([&] { ToolSurface(mesh, Points::Zero(3, 3)); },
              ::testing::ThrowsMessage<MeshError>(::testing::HasSubstr("not a unit vector")));
}

}  // namespace
}  // namespace halftool::mesh
