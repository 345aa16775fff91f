#pragma once
#include <Eigen/Core>
#include <functional>
#include <vector>

#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {

/// A part of the border and what it is held in.
struct Support {
  std::function<bool(const Eigen::Vector3d&)> where;      ///< of nodes of the undeformed mesh
  Eigen::Matrix<bool, 3, 1> motion{false, false, false};  ///< of the nodes along x, y, z
  bool turn = false;  ///< of border edges with both ends there, about themselves
  bool bow = false;   ///< of the same edges: where an edge may not move in its own plane
};

/// Half of a sheet that is symmetric about the plane x(axis) = 0.
Support symmetry_plane(int axis);

/// An end plate x(axis) = place, rigid in its plane and soft out of it: the rim keeps its shape and may move
/// along the axis, turn and bow out.
Support diaphragm(int axis, double place);

/// All of it held. On an edge that stays where it is a held turn keeps the mid-side normal still in space,
/// planar or not; on one that moves within a plane it keeps its angle to that plane.
Support clamp(const std::function<bool(const Eigen::Vector3d&)>& where);

/// The place held, the turn free.
Support hinge(const std::function<bool(const Eigen::Vector3d&)>& where);

/// Holds the nodes of some place in one direction (a rigid motion that no load drives).
Support guide(const std::function<bool(const Eigen::Vector3d&)>& where, int axis);

/// Takes what is held out of a model's unknowns, before anything is built on its numbering.
void hold(solver::SheetModel& model, const std::vector<Support>& supports);

}  // namespace halftool::test
