#pragma once
#include <Eigen/Core>
#include <array>
#include <cmath>
#include <map>
#include <vector>

namespace halftool::solver {

/// Points sorted into cubes, to look through those near a place.
class PointCubes {
 public:
  /// @param points  (n, 3)
  /// @param width   of the cubes, > 0: as far as is looked
  PointCubes(const Eigen::MatrixX3d& points, double width) : width_(width) {
    for (Eigen::Index i = 0; i < points.rows(); ++i) cubes_[cube_of(points.row(i))].push_back(i);
  }

  /// Calls visit(point's number) for all points within the width, and some farther off, until it returns
  /// true.
  template <class Visit>
  void near(const Eigen::Vector3d& at, Visit visit) const {
    const Cube here = cube_of(at);
    for (int i = 0; i < 27; ++i) {
      const auto cube = cubes_.find({here[0] + i % 3 - 1, here[1] + i / 3 % 3 - 1, here[2] + i / 9 - 1});
      if (cube == cubes_.end()) continue;
      for (const Eigen::Index point : cube->second)
        if (visit(point)) return;
    }
  }

 private:
  using Cube = std::array<long, 3>;
  [[nodiscard]] Cube cube_of(const Eigen::Vector3d& at) const {
    return {std::lround(std::floor(at[0] / width_)), std::lround(std::floor(at[1] / width_)),
            std::lround(std::floor(at[2] / width_))};
  }

  double width_;
  std::map<Cube, std::vector<Eigen::Index>> cubes_;
};

}  // namespace halftool::solver
