#pragma once
#include <Eigen/Core>
#include <array>
#include <memory>
#include <optional>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// The flat triangle nearest to a point.
struct ClosestTriangle {
  int triangle = -1;
  Eigen::Vector3d barycentric;  ///< of the closest point
  double distance = 0;          ///< [mm], >= 0
};

/// Where a ray meets a triangle.
struct RayHit {
  int triangle = -1;
  double distance = 0;  ///< from the ray's origin [mm]
};

/// Closest point of one flat triangle, which may be degenerate.
/// Source: C. Ericson (2005), Real-Time Collision Detection, section 5.1.5 (regions of the plane by signs of
/// products).
/// @param corners  the three corners [mm]
/// @return barycentric coordinates (3), each >= 0, sum 1
Eigen::Vector3d closest_in_triangle(const Eigen::Vector3d& x, const std::array<Eigen::Vector3d, 3>& corners);

/// Bounding-volume tree over triangles (Embree). Boxes are single precision and slightly widened, distances
/// double. Queries are thread-safe and do not depend on the order in which the tree is walked: the lower
/// number wins a tie.
class TriangleTree {
 public:
  explicit TriangleTree(const SurfaceMesh& mesh);
  ~TriangleTree();
  TriangleTree(TriangleTree&&) noexcept;
  TriangleTree& operator=(TriangleTree&&) noexcept;

  /// @param likely  triangle that is near x, where one is known: narrows the search from the start and
  /// changes
  ///                nothing of the answer; of no effect if there is no such triangle
  /// @return the triangle nearest to x, or nothing if none lies within the radius [mm]
  [[nodiscard]] std::optional<ClosestTriangle> closest(const Eigen::Vector3d& x, double radius,
                                                       int likely = -1) const;

  /// @param direction  unit vector
  /// @param from       hits nearer than this do not count [mm]
  /// @return the first triangle that the ray meets, from either side, or nothing. The triangle is found in
  /// single precision, the distance in double.
  [[nodiscard]] std::optional<RayHit> first_hit(const Eigen::Vector3d& origin,
                                                const Eigen::Vector3d& direction, double from) const;

 private:
  struct Data;
  std::unique_ptr<Data> data_;
};

}  // namespace halftool::mesh
