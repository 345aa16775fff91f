#include "tests/support/cuboids.hpp"

#include "tests/support/tool_meshes.hpp"

namespace halftool::testing {

mesh::ToolSurface tool_of(const std::vector<Cuboid>& cuboids) {
  const auto n = static_cast<Eigen::Index>(cuboids.size());
  mesh::SurfaceMesh all;
  all.nodes.resize(8 * n, 3);
  all.triangles.resize(12 * n, 3);
  mesh::Points normals(36 * n, 3);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Cuboid& cuboid = cuboids[static_cast<std::size_t>(i)];
    const Eigen::Vector3d centre = 0.5 * (cuboid.low + cuboid.high);
    const mesh::ToolSurface box = box_tool(0.5 * (cuboid.high - cuboid.low));
    all.nodes.middleRows<8>(8 * i) = box.mesh().nodes.rowwise() + centre.transpose();
    all.triangles.middleRows<12>(12 * i) = box.mesh().triangles.array() + static_cast<int>(8 * i);
    normals.middleRows<36>(36 * i) = box.corner_normals();
  }
  return {std::move(all), std::move(normals)};
}

}  // namespace halftool::testing
