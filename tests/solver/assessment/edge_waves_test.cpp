// Waves of flange edges on parts folded by formula; exact, no source needed.
#include "solver/assessment/edge_waves.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;

constexpr double kPi = std::numbers::pi;
constexpr double kThickness = 1;
constexpr double kRoot = 20;  // where the flange begins: radius of the cup, x of the strip [mm]
constexpr double kHeight = 12;

/// Deviation of the wall [mm] at a place along the fold and a depth below it.
using Wall = std::function<double(double along, double depth)>;

/// A wave that grows from the root to the edge.
Wall waves(int n, double length, double amplitude) {
  return [=](double along, double depth) {
    return amplitude * std::sin(2 * kPi * n * along / length) * std::pow(depth / kHeight, 2);
  };
}
double flat(double, double) {
  return 0;
}

mesh::Points place(const mesh::Blank& blank, const std::function<Vector3d(const Vector3d&)>& fold) {
  mesh::Points positions = blank.mesh.nodes;
  for (Eigen::Index i = 0; i < positions.rows(); ++i)
    positions.row(i) = fold(blank.mesh.nodes.row(i).transpose()).transpose();
  return positions;
}

SheetFields state_of(const mesh::Points& positions, double pressure) {
  SheetFields fields;
  fields.positions = positions;
  fields.pressure = pressure;
  return fields;
}

/// A round cup: the rim of a disc folded down; the wall's radius deviates.
struct Cup {
  mesh::Blank blank = test::blank_of(test::disc(kRoot + kHeight, 20, {3, 0.2}), kThickness);
  [[nodiscard]] mesh::Points folded(const Wall& wall) const {
    return place(blank, [&](const Vector3d& x) -> Vector3d {
      const double radius = x.norm(), depth = radius - kRoot;
      if (depth <= 0) return x;
      const double at = kRoot + wall(kRoot * std::atan2(x.y(), x.x()), depth);
      return {at * x.x() / radius, at * x.y() / radius, -depth};
    });
  }
};

/// A strip along y with a flange at x > kRoot.
struct Bracket {
  static constexpr double kWidth = 100;
  mesh::Blank blank = test::blank_of(test::rectangle(kRoot + kHeight, kWidth, 16, 50, {4, 0.2}), kThickness);
  [[nodiscard]] mesh::Points folded(const Wall& wall, double angle = kPi / 2) const {
    return place(blank, [&](const Vector3d& x) -> Vector3d {
      const double depth = x.x() - kRoot;
      if (depth <= 0) return x;
      const Vector3d normal(std::sin(angle), 0, std::cos(angle));
      const Vector3d down(std::cos(angle), 0, -std::sin(angle));
      return Vector3d(kRoot, x.y(), 0) + depth * down + wall(x.y(), depth) * normal;
    });
  }
};

EdgeWaveHistory history_of(const mesh::Blank& blank, const std::vector<mesh::Points>& path,
                           const mesh::ToolSurface* tool = nullptr) {
  EdgeTrace trace(blank);
  for (std::size_t i = 0; i < path.size(); ++i) trace.add(state_of(path[i], static_cast<double>(i)), tool);
  return trace.history();
}

class WaveCounts : public ::testing::TestWithParam<int> {};
INSTANTIATE_TEST_SUITE_P(Counts, WaveCounts, ::testing::Values(4, 7));

// 120 nodes round the edge: some 17 to 30 a wave.
TEST_P(WaveCounts, RoundACup) {
  const Cup cup;
  const int n = GetParam();
  const auto history = history_of(cup.blank, {cup.folded(waves(n, 2 * kPi * kRoot, 0.3))});
  EXPECT_EQ(history.left.count, n);
  EXPECT_NEAR(history.left.height, 0.6, 0.04);
  EXPECT_NEAR(history.left.length, 2 * kPi * (kRoot + kHeight) / n, 4);  // along the flat edge
  EXPECT_NEAR(history.left.at.z(), -kHeight, 1e-9);
}

TEST_P(WaveCounts, AlongABracket) {
  const Bracket bracket;
  const int n = GetParam();
  const auto history = history_of(bracket.blank, {bracket.folded(waves(n, Bracket::kWidth, 0.3))});
  EXPECT_EQ(history.left.count, n);
  EXPECT_NEAR(history.left.height, 0.6, 0.08);
}

TEST(EdgeWaves, NoneOnPlainFlanges) {
  const Cup cup;
  EXPECT_EQ(history_of(cup.blank, {cup.folded(flat)}).left.count, 0);
  const Bracket bracket;
  for (const double angle : {40.0, 70.0, 90.0, 110.0})
    EXPECT_EQ(history_of(bracket.blank, {bracket.folded(flat, angle * kPi / 180)}).left.count, 0);
  const Wall tilted = [](double along, double depth) { return 0.02 * along * depth / kHeight; };
  EXPECT_EQ(history_of(bracket.blank, {bracket.folded(tilted)}).left.count, 0);
}

// The edges across the fold, with the sharp fold in them, are no flange edges.
TEST(EdgeWaves, FlangeEdgesRunAlongTheFold) {
  const Bracket bracket;
  const auto edges = find_flange_edges(bracket.blank, bracket.folded(flat));
  ASSERT_EQ(std::ssize(edges), 1);
  EXPECT_EQ(std::ssize(edges[0].nodes), 51);
  for (const int node : edges[0].nodes) EXPECT_EQ(bracket.blank.mesh.nodes(node, 0), kRoot + kHeight);
  const Cup cup;
  const auto rims = find_flange_edges(cup.blank, cup.folded(flat));
  ASSERT_EQ(std::ssize(rims), 1);
  EXPECT_TRUE(rims[0].closed);
  mesh::Blank held = cup.blank;
  held.rim_held = true;
  EXPECT_TRUE(find_flange_edges(held, cup.folded(flat)).empty());
}

TEST(EdgeWaves, HalfABracketEndsOnItsPlane) {
  Bracket bracket;
  test::mark_border(bracket.blank, 1, 0, mesh::EdgeKind::symmetry_y);
  const Wall crest_on_plane = [](double along, double depth) {
    return 0.3 * std::cos(2 * kPi * 2.5 * along / Bracket::kWidth) * std::pow(depth / kHeight, 2);
  };
  const auto history = history_of(bracket.blank, {bracket.folded(crest_on_plane)});
  EXPECT_EQ(history.left.count, 3);
  EXPECT_NEAR(history.left.height, 0.6, 0.08);
}

// Highest on the way, nothing left at the end; the edge is as long as it was.
TEST(EdgeWaves, IronedOut) {
  const Cup cup;
  const auto path = std::vector{cup.folded(waves(5, 2 * kPi * kRoot, 0.1)),
                                cup.folded(waves(5, 2 * kPi * kRoot, 0.3)), cup.folded(flat)};
  const auto history = history_of(cup.blank, path);
  EXPECT_EQ(history.highest.count, 5);
  EXPECT_EQ(history.highest.pressure, 1);
  EXPECT_EQ(history.left.count, 0);
  EXPECT_EQ(history.left.pressure, 2);
  const double strain = std::log(kRoot / (kRoot + kHeight));
  EXPECT_NEAR(history.least_strain, strain, 1e-3);
  EXPECT_NEAR(history.largest_strain, strain, 1e-3);
}

// A wall with a joggle: a sheet that lies on it has its shape, and no wave.
TEST(EdgeWaves, TheShapeOfTheToolIsNone) {
  const auto joggle = [](double y) { return 0.6 * std::exp(-std::pow((y - 45) / 9, 2)); };
  const auto slope = [&](double y) { return -2 * (y - 45) / 81 * joggle(y); };
  const mesh::ToolSurface wall = testing::tool_over_square(60, 10, 0, [&](double u, double v) {
    const double y = 140 * u - 20, z = 50 * v - 45;
    return testing::SurfacePoint{{kRoot - 0.5 * kThickness + joggle(y), y, z},
                                 Vector3d(1, -slope(y), 0).normalized()};
  });
  const Bracket bracket;
  const Wall on_tool = [&](double along, double depth) { return depth > 2 ? joggle(along) : 0; };
  const mesh::Points positions = bracket.folded(on_tool);
  EXPECT_GT(history_of(bracket.blank, {positions}).left.count, 0);
  EXPECT_EQ(history_of(bracket.blank, {positions}, &wall).left.count, 0);
  const Wall off_tool = [&](double along, double depth) {
    return on_tool(along, depth) + 0.2 + waves(5, Bracket::kWidth, 0.2)(along, depth);
  };
  const auto history = history_of(bracket.blank, {bracket.folded(off_tool)}, &wall);
  EXPECT_EQ(history.left.count, 5);
  EXPECT_NEAR(history.left.height, 0.4, 0.06);
}

}  // namespace
}  // namespace halftool::solver
