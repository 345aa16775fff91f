#include <limits>

#include "io/figures/scene.hpp"

namespace halftool::io {

Eigen::Vector2d Camera::project(const Eigen::Vector3d& point) const {
  const Eigen::Vector3d off = (point - centre) / mm_per_px;
  return {0.5 * width + off.dot(right), 0.5 * height - off.dot(up)};
}

Camera aim(const Eigen::Vector3d& from, const mesh::Points& points, int width, int height,
           const Eigen::AlignedBox2d& window) {
  Camera camera;
  camera.width = width;
  camera.height = height;
  camera.right = Eigen::Vector3d::UnitZ().cross(from).normalized();
  camera.up = from.cross(camera.right).normalized();
  Eigen::AlignedBox2d seen;
  for (Eigen::Index i = 0; i < points.rows(); ++i) {
    const Eigen::Vector3d p = points.row(i);
    seen.extend(Eigen::Vector2d(p.dot(camera.right), p.dot(camera.up)));
  }
  const Eigen::Vector2d size = seen.sizes();
  const double floor = std::numeric_limits<double>::min();
  camera.mm_per_px = std::max({size.x() / window.sizes().x(), size.y() / window.sizes().y(), floor});
  // The middle of what is seen goes to the middle of the window.
  const Eigen::Vector2d shift =
      (window.center() - Eigen::Vector2d(0.5 * width, 0.5 * height)) * camera.mm_per_px;
  const Eigen::Vector2d middle = seen.center() - Eigen::Vector2d(shift.x(), -shift.y());
  const double depth = (points.colwise().mean() * camera.to_eye()).value();
  camera.centre = middle.x() * camera.right + middle.y() * camera.up + depth * camera.to_eye();
  return camera;
}

}  // namespace halftool::io
