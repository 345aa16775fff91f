#include "mesh/shut_in.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "mesh/closest_triangle.hpp"

namespace halftool::mesh {

bool is_shut_in(const ToolSurface& tool, const Eigen::Vector3d& from, double beyond) {
  const auto sees_sky = [&](const Eigen::Vector3d& way) {
    return !tool.tree().first_hit(from, way, beyond).has_value();
  };
  if (sees_sky(Eigen::Vector3d::UnitZ())) return false;
  constexpr double degree = std::numbers::pi / 180;
  for (const double rise : {45 * degree, 10 * degree})
    for (int i = 0; i < 8; ++i) {
      const double turn = 45 * degree * i;
      if (sees_sky({std::cos(rise) * std::cos(turn), std::cos(rise) * std::sin(turn), std::sin(rise)}))
        return false;
    }
  return true;
}

bool is_shut_in(const ToolSurface& tool, int facet) {
  const auto& curved = tool.facets()[static_cast<std::size_t>(facet)];
  const auto& corner = curved.corner;
  const double size = std::max(
      {(corner[1] - corner[0]).norm(), (corner[2] - corner[1]).norm(), (corner[0] - corner[2]).norm()});
  // Off the flat facets of a hollow face, which stand behind each other.
  const double off = std::min(0.02 * size, 0.1);
  const Eigen::Vector3d middle = (corner[0] + corner[1] + corner[2]) / 3;
  return is_shut_in(tool, middle + off * curved.unit_normal(Eigen::Vector3d::Constant(1.0 / 3)), 0.1 * off);
}

}  // namespace halftool::mesh
