#pragma once
#include <Eigen/Core>
#include <functional>
#include <vector>

#include "mesh/surface_mesh.hpp"
#include "solver/kinematics/shell_triangle.hpp"

namespace halftool::test {

/// A smooth surface that a plane sheet is laid on: place and unit normal of the point (x, y, 0).
struct ExactSurface {
  std::function<Eigen::Vector3d(const Eigen::Vector3d&)> place;
  std::function<Eigen::Vector3d(const Eigen::Vector3d&)> normal;
};

/// The plane itself.
ExactSurface plane();

/// Cylinder about an axis along y, touching the plane at x = 0: arc length x. The centre lies on the +z side
/// for radius > 0, on the other for radius < 0.
ExactSurface cylinder(double radius);

/// Graph of (k11 x^2 + 2 k12 x y + k22 y^2) / 2; curvatures k at the origin, towards +z.
ExactSurface paraboloid(double k11, double k22, double k12);

/// Turn that brings the mid-side normal of an edge as close to a direction as an edge with this tangent lets
/// it; (-pi, pi].
/// @param frame    of the last accepted state
/// @param tangent  unit, of the edge in the trial
double turn_towards(const solver::EdgeFrame& frame, const Eigen::Vector3d& tangent,
                    const Eigen::Vector3d& direction);

/// Element states of a mesh whose nodes lie on the surface and whose mid-side normals are the surface's,
/// exact but for the part along the edge.
/// @param sheet  plane mesh in z = 0
std::vector<solver::TriangleState> states_on(const mesh::SurfaceMesh& sheet, const ExactSurface& surface);

/// References of states taken as undeformed, material frames along `axis`.
std::vector<solver::TriangleReference> references_of(const mesh::SurfaceMesh& sheet,
                                                     const std::vector<solver::TriangleState>& states,
                                                     const Eigen::Vector3d& axis);

}  // namespace halftool::test
