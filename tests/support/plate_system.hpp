#pragma once
#include <vector>

#include "solver/assembly/sparsity.hpp"

namespace halftool::support {

/// Equations of a square plate of 2 * divisions^2 triangles with all unknowns of a shell (three a node, two
/// an edge), its first row of nodes held unless `free`.
struct PlateSystem {
  solver::ElementEquations equations;
  std::vector<int> group_of_equation;  ///< its node or edge
  int n_equations = 0;
};

PlateSystem make_plate_system(int divisions, bool free = false);

/// Positive semidefinite element matrix of rank 9, always the same for an element and a seed. Equal values of
/// all unknowns are in its null space, so a free plate is singular.
solver::TriangleMatrix element_matrix(int element, int seed = 0);

/// Values of the sum of all element matrices, with `shift` taken from the diagonal.
Eigen::VectorXd assemble(const solver::SparsityPattern& pattern, int seed = 0, double shift = 0);

/// The full symmetric matrix.
Eigen::MatrixXd to_dense(const solver::SparsityPattern& pattern, const Eigen::VectorXd& values);

}  // namespace halftool::support
