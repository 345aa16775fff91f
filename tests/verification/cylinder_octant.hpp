#pragma once
#include "mesh/blank.hpp"
#include "tests/verification/load_curve.hpp"

namespace halftool::test {

struct Cylinder {
  double radius = 0;  ///< [mm]
  double length = 0;  ///< whole [mm]
  double thickness = 0;
};

/// An eighth of a cylinder about the y axis, x, y, z >= 0. Nodes run from x = 0 a quarter round to z = 0,
/// then along the axis from the middle, y = 0, to the end: divisions by divisions cells of two triangles.
mesh::Blank cylinder_octant(const Cylinder& cylinder, const MeshChoice& choice);

}  // namespace halftool::test
