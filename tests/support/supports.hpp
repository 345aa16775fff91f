#pragma once
#include <Eigen/Core>
#include <array>
#include <functional>
#include <vector>

#include "solver/assembly/sheet_model.hpp"

namespace halftool::test {

/// What a part of the sheet's border is held by, beyond what the blank itself holds. A held turn keeps the
/// angle between the mid-side normal and the edge's director: on an edge that stays where it is the normal
/// stands still in space, on one that moves within a plane it keeps its angle to that plane.
struct Support {
  std::function<bool(const Eigen::Vector3d&)> on;  ///< point of the undeformed sheet -> whether it is held
  std::array<bool, 3> fixed{};                     ///< displacements of the nodes along x, y, z
  bool turn = false;                               ///< of the border edges with both ends on it
  bool bow = false;                                ///< of the same edges
};

/// The plane of symmetry x(axis) = 0.
Support symmetry_plane(int axis);

/// Rigid diaphragm in the plane x(axis) = value: no motion in that plane, free across it and to turn.
Support diaphragm(int axis, double value);

/// All of it held.
Support clamp(std::function<bool(const Eigen::Vector3d&)> on);

/// Holds unknowns of the model and numbers what is left anew. Loads and states are to be made afterwards.
void hold(solver::SheetModel& model, const std::vector<Support>& supports);

}  // namespace halftool::test
