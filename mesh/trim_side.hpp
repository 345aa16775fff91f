#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/trim.hpp"

namespace halftool::mesh {

/// How a box lies to a trim line.
enum class BoxSide { across, kept, cut_off };

/// The two sides of a trim line, seen along its axis. Curves stand as polygons that follow them to 1e-4 mm.
class TrimSide {
 public:
  /// @param spec  outlives this
  explicit TrimSide(const TrimSpec& spec);

  /// Whether a point lies on the side that is kept.
  [[nodiscard]] bool keeps(const Eigen::RowVector3d& x) const;
  /// How often a straight line crosses the trim line.
  [[nodiscard]] int crossings(const Eigen::RowVector3d& from, const Eigen::RowVector3d& to) const;
  /// How a box of the line's plane lies; a line that only touches it is not across it.
  [[nodiscard]] BoxSide side_of(const Eigen::Vector2d& low, const Eigen::Vector2d& high) const;
  /// Where the line turns by more than 20 degrees [mm].
  [[nodiscard]] std::vector<Eigen::Vector2d> corners() const;
  /// A point seen along the line's axis.
  [[nodiscard]] Eigen::Vector2d plane(const Eigen::RowVector3d& x) const;

 private:
  [[nodiscard]] bool keeps_at(const Eigen::Vector2d& at) const;

  const TrimSpec& spec_;
  std::vector<std::vector<Eigen::Vector2d>> polygons_;  // the outer one, then the holes
};

}  // namespace halftool::mesh
