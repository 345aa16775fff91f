#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/blank.hpp"
#include "solver/assembly/sparsity.hpp"
#include "solver/state.hpp"

namespace halftool::solver {

/// Numbers of the unknowns: three a node, then a turn and a bow an edge; -1 where the blank's symmetry or
/// held rim fixes the unknown.
struct Equations {
  Eigen::Matrix<int, Eigen::Dynamic, 3, Eigen::RowMajor> of_node;  ///< (n_nodes, 3)
  Eigen::VectorXi turn;                                            ///< (n_edges)
  Eigen::VectorXi bow;                                             ///< (n_edges)
  int count = 0;
};

/// @param enriched  false holds every bow (constant-strain membrane)
Equations number_equations(const mesh::Blank& blank, bool enriched);

/// The 15 equation numbers of each triangle, in the order of TriangleVector.
ElementEquations triangle_equations(const mesh::Blank& blank, const Equations& equations);

/// (count) a number a node or edge that its equations share, for fill_reducing_order.
std::vector<int> equation_groups(const Equations& equations);

/// Adds `change` (count) to the free unknowns of a place.
SheetPlace moved(const SheetPlace& place, const Equations& equations, const Eigen::VectorXd& change);

/// Free unknowns of `to` minus those of `from`, (count).
Eigen::VectorXd difference(const SheetPlace& to, const SheetPlace& from, const Equations& equations);

/// Largest length of a node's vector in a field over the free unknowns.
double largest_of_nodes(const Eigen::VectorXd& field, const Equations& equations);

/// Largest motion of a node among the free unknowns of a change [mm].
inline double largest_motion(const Eigen::VectorXd& change, const Equations& equations) {
  return largest_of_nodes(change, equations);
}

}  // namespace halftool::solver
