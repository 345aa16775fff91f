#include "tests/verification/cylinder_octant.hpp"

#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {

mesh::Blank cylinder_octant(const Cylinder& cylinder, const MeshChoice& choice) {
  const int n = choice.divisions;
  const mesh::SurfaceMesh flat =
      rectangle(std::numbers::pi / 2, cylinder.length / 2, n, n, Disorder{choice.seed});
  mesh::Blank blank = blank_of(
      mapped(flat,
             [&](const Eigen::Vector3d& at) -> Eigen::Vector3d {
               return {cylinder.radius * std::sin(at.x()), at.y(), cylinder.radius * std::cos(at.x())};
             }),
      cylinder.thickness);
  blank.rolling_direction = {0, 1};  // along the axis
  return blank;
}

}  // namespace halftool::test
