#pragma once
#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "io/figures/colour_map.hpp"
#include "io/figures/display.hpp"
#include "io/figures/image.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::io {

/// A triangulated surface as it is to be drawn.
struct Surface {
  mesh::Points points;        ///< (n_points, 3) [mm]
  mesh::Triangles triangles;  ///< (n_triangles, 3)
  Eigen::VectorXd shares{};   ///< (n_points) places on the ramp, 0 to 1; empty: `colour` all over
  Rgb colour{0.8, 0.8, 0.8};
  double opacity = 1;
  bool lit = true;        ///< shaded by lamps; else the bare colour
  bool hatched = false;   ///< over_colour under a cross hatch, fixed to the picture
  double edge_width = 0;  ///< of lines along borders and sharp edges [px]; 0: none
  Rgb edge_colour{0.25, 0.25, 0.25};
  Eigen::AlignedBox3d clip{};  ///< only what lies inside is drawn [mm]; empty box: everything
};

/// Parallel projection onto the picture.
struct Camera {
  Eigen::Vector3d right = Eigen::Vector3d::UnitX();  ///< of the picture, unit
  Eigen::Vector3d up = Eigen::Vector3d::UnitZ();     ///< of the picture, unit
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();  ///< shown at the middle of the picture [mm]
  double mm_per_px = 1;
  int width = 0;   ///< [px]
  int height = 0;  ///< [px]

  /// Unit vector from the scene to the eye.
  [[nodiscard]] Eigen::Vector3d to_eye() const { return right.cross(up); }
  /// Where a point appears, from the top left [px].
  [[nodiscard]] Eigen::Vector2d project(const Eigen::Vector3d& point) const;
};

/// A camera that looks from the given side, z up, and fits the points into a part of the picture.
/// @param from    direction from the scene to the eye, not along z
/// @param points  (n, 3) what has to be seen [mm]
/// @param window  the part of the picture to fill [px]
Camera aim(const Eigen::Vector3d& from, const mesh::Points& points, int width, int height,
           const Eigen::AlignedBox2d& window);

/// Draws surfaces on white.
/// @pre display.available(): VTK would end the program otherwise
Image render(const Display& display, const std::vector<Surface>& surfaces, const Camera& camera);

}  // namespace halftool::io
