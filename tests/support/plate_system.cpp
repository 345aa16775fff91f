#include "tests/support/plate_system.hpp"

#include <array>
#include <map>
#include <random>
#include <utility>

namespace halftool::support {
namespace {

using solver::kTriangleUnknowns;

std::vector<std::array<int, 3>> triangulate(int divisions) {
  std::mt19937 random(7);
  std::vector<std::array<int, 3>> triangles;
  for (int j = 0; j < divisions; ++j)
    for (int i = 0; i < divisions; ++i) {
      const int a = j * (divisions + 1) + i, b = a + 1, c = b + divisions + 1, d = c - 1;
      if (random() % 2 == 0) {  // diagonals at random: an irregular mesh
        triangles.push_back({a, b, c});
        triangles.push_back({a, c, d});
      } else {
        triangles.push_back({a, b, d});
        triangles.push_back({b, c, d});
      }
    }
  return triangles;
}

}  // namespace

PlateSystem make_plate_system(int divisions, bool free) {
  const auto triangles = triangulate(divisions);
  const int n_nodes = (divisions + 1) * (divisions + 1);
  PlateSystem system;
  std::vector<int> first_of_node(n_nodes, -1);
  for (int node = free ? 0 : divisions + 1; node < n_nodes; ++node) {
    first_of_node[node] = system.n_equations;
    system.n_equations += 3;
    system.group_of_equation.insert(system.group_of_equation.end(), 3, node);
  }
  std::map<std::pair<int, int>, int> first_of_edge;
  system.equations.resize(static_cast<int>(triangles.size()), kTriangleUnknowns);
  for (int element = 0; element < static_cast<int>(triangles.size()); ++element)
    for (int i = 0; i < 3; ++i) {
      const int node = triangles[element][i];
      for (int k = 0; k < 3; ++k)
        system.equations(element, 3 * i + k) = first_of_node[node] < 0 ? -1 : first_of_node[node] + k;
      const auto [tail, head] = std::minmax(triangles[element][(i + 1) % 3], triangles[element][(i + 2) % 3]);
      const auto [edge, is_new] = first_of_edge.try_emplace({tail, head}, system.n_equations);
      if (is_new) {
        const int group = n_nodes + static_cast<int>(first_of_edge.size()) - 1;
        system.group_of_equation.insert(system.group_of_equation.end(), 2, group);
        system.n_equations += 2;
      }
      system.equations(element, 9 + i) = edge->second;
      system.equations(element, 12 + i) = edge->second + 1;
    }
  return system;
}

solver::TriangleMatrix element_matrix(int element, int seed) {
  std::mt19937 random(static_cast<unsigned>(1000003 * seed + element + 1));
  std::uniform_real_distribution<double> entry(-1, 1);
  Eigen::Matrix<double, 9, kTriangleUnknowns> gradient;
  for (double& x : gradient.reshaped()) x = entry(random);
  gradient.colwise() -= gradient.rowwise().mean();
  return gradient.transpose() * gradient;
}

Eigen::VectorXd assemble(const solver::SparsityPattern& pattern, int seed, double shift) {
  Eigen::VectorXd values = Eigen::VectorXd::Zero(pattern.n_values());
  for (int element = 0; element < pattern.n_elements(); ++element)
    pattern.scatter(element, element_matrix(element, seed), values);
  for (int i = 0; i < pattern.n_equations(); ++i) values[pattern.diagonal_slot(i)] -= shift;
  return values;
}

Eigen::MatrixXd to_dense(const solver::SparsityPattern& pattern, const Eigen::VectorXd& values) {
  Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(pattern.n_equations(), pattern.n_equations());
  for (int column = 0; column < pattern.n_equations(); ++column)
    for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k)
      dense(pattern.rows()[k], column) = dense(column, pattern.rows()[k]) = values[k];
  return dense;
}

}  // namespace halftool::support
