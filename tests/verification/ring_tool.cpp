#include "tests/verification/ring_tool.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/tool_meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr int kTop = 6, kWall = 6;  // rows of facets

/// Point and outward normal in the half plane (r, z), at a length from the beginning of the rounding, > 0
/// towards the wall.
struct ProfilePoint {
  Eigen::Vector2d place, normal;
};
ProfilePoint profile_at(const RingTool& shape, double length) {
  const double side = shape.inward ? -1 : 1;
  const double angle = std::clamp(length / shape.edge_radius, 0.0, shape.turn);
  const Eigen::Vector2d normal(side * std::sin(angle), std::cos(angle));
  const Eigen::Vector2d along(side * std::cos(angle), -std::sin(angle));
  const Eigen::Vector2d centre(shape.axis_radius, -shape.edge_radius);
  const double beyond = length - shape.edge_radius * angle;
  return {centre + shape.edge_radius * normal + beyond * along, normal};
}

}  // namespace

mesh::ToolSurface ring_tool(const RingTool& shape) {
  const double arc = shape.edge_radius * shape.turn;
  const int lip = static_cast<int>(std::ceil(shape.turn / (3 * kDegree)));
  const int rows = kTop + lip + kWall;
  const int around = static_cast<int>(std::ceil((shape.to - shape.from) / (2 * kDegree)));
  const auto length = [&](double row) {  // grid lines on both ends of the rounding
    if (row <= kTop) return shape.top * (row / kTop - 1);
    if (row <= kTop + lip) return arc * (row - kTop) / lip;
    return arc + shape.wall * (row - kTop - lip) / kWall;
  };
  return halftool::testing::tool_over_square(rows, around, 0, [&](double u, double v) {
    const ProfilePoint point = profile_at(shape, length(rows * (shape.inward ? 1 - u : u)));
    const double angle = shape.from + v * (shape.to - shape.from);
    const auto turned = [&](const Eigen::Vector2d& x) {
      return Eigen::Vector3d(x.x() * std::cos(angle), x.x() * std::sin(angle), x.y());
    };
    return halftool::testing::SurfacePoint{turned(point.place), turned(point.normal)};
  });
}

}  // namespace halftool::test
