#pragma once
#include <Eigen/Core>
#include <limits>

#include "solver/assembly/balance.hpp"
#include "solver/assembly/linear_system.hpp"
#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {

/// A sheet free of the tool that is led along its path of equilibrium under a dead load whose share is an
/// unknown too. Each increment ends in a plane normal to the last increment's motion of the nodes, a length
/// on (Riks, Int. J. Solids Struct. 15 (1979) 529-551), which passes greatest loads and greatest
/// displacements; or where a leading unknown has moved by a length, until that is about to turn back. Lengths
/// adapt to the iterations that they take.
class FollowedSheet {
 public:
  /// @param dead_load  (equations) at share 1
  /// @param longest    increment: root mean square of the nodes' motions, or motion of the leading unknown
  /// [mm]
  /// @param leading    its equation; -1: none
  FollowedSheet(const solver::SheetModel& model, const Eigen::VectorXd& dead_load, double longest,
                int leading = -1);
  FollowedSheet(const FollowedSheet&) = delete;
  FollowedSheet& operator=(const FollowedSheet&) = delete;

  /// One increment.
  /// @throws std::runtime_error  no equilibrium found within 1e-5 of the longest increment
  void advance() { advance(std::numeric_limits<double>::infinity()); }

  /// Follows the path until it first comes to this share from below.
  void load_to(double share);

  [[nodiscard]] double share() const { return share_; }
  [[nodiscard]] Eigen::Vector3d displacement(int node) const;

 private:
  struct Trial;
  void advance(double most_share);
  void start();
  bool iterate(Trial& trial);
  bool correct(Trial& trial);
  [[nodiscard]] Eigen::VectorXd plane_of_leading() const;
  [[nodiscard]] Eigen::VectorXd plane_across() const;
  bool step_to(const Eigen::VectorXd& plane, double length, double most_share);
  [[nodiscard]] bool turned_back(const Trial& trial) const;
  bool landed(double share, Trial& trial);
  void take(const Trial& trial);

  const solver::SheetModel& model_;
  Eigen::VectorXd dead_load_;
  double longest_;
  int leading_;
  double length_;  // of the next increment
  solver::SparsityPattern pattern_;
  solver::LinearSystem system_;
  solver::SheetState state_;
  Eigen::VectorXd weight_;  // of unknowns in the length: those of nodes alike, turns and bows none
  Eigen::VectorXd motion_;  // of the last increment, all unknowns
  double share_motion_ = 0;
  double share_ = 0;
  int last_iterations_ = 0;  // of the last increment
};

}  // namespace halftool::test
