#pragma once
#include <Eigen/Core>
#include <Eigen/Geometry>
#include <string>
#include <vector>

#include "io/figures/canvas.hpp"

namespace halftool::io {

/// A rectangle of the canvas with axes. Values run right and up.
struct Plot {
  Eigen::AlignedBox2d place;   ///< on the canvas [px]
  Eigen::AlignedBox2d values;  ///< shown

  [[nodiscard]] Eigen::Vector2d to_px(const Eigen::Vector2d& value) const;
  [[nodiscard]] Polyline to_px(const std::vector<Eigen::Vector2d>& line) const;
  [[nodiscard]] Polyline to_px(const Eigen::MatrixX2d& line) const;
  void clip(Canvas& canvas) const { canvas.clip(place.min(), place.max()); }
};

/// Ground, grid, frame, tick labels and axis titles.
/// @param wanted  number of steps along x and y
void draw_axes(Canvas& canvas, const Plot& plot, const std::string& x_title, const std::string& y_title,
               const Eigen::Vector2i& wanted);

}  // namespace halftool::io
