#pragma once
#include <Eigen/Core>
#include <vector>

namespace halftool::test {

/// Slope of the straight line of least squares through points (x, y); at least two with unlike x.
inline double least_squares_slope(const std::vector<Eigen::Vector2d>& points) {
  Eigen::Vector2d mean = Eigen::Vector2d::Zero();
  for (const Eigen::Vector2d& point : points) mean += point / static_cast<double>(points.size());
  double product = 0, square = 0;
  for (const Eigen::Vector2d& point : points) {
    const Eigen::Vector2d off = point - mean;
    product += off.x() * off.y();
    square += off.x() * off.x();
  }
  return product / square;
}

}  // namespace halftool::test
