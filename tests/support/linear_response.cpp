#include "tests/support/linear_response.hpp"

#include <stdexcept>

#include "solver/assembly/balance.hpp"
#include "solver/assembly/linear_system.hpp"

namespace halftool::test {

LinearResponse::LinearResponse(const solver::SheetModel& model, const Eigen::VectorXd& load) : model_(model) {
  const solver::SparsityPattern pattern(model.triangle_equations, model.equations.count);
  const solver::SheetState rest = solver::initial_state(model);
  solver::Loading nothing;
  nothing.edges_loaded = false;
  const solver::Balance balance = solver::balance(model, pattern, rest, rest.place, nothing, true, 1);
  solver::LinearSystem system(pattern, solver::equation_groups(model.equations));
  const solver::FactorOutcome outcome = system.factorise(balance.stiffness);
  if (!outcome.ok || outcome.negative_pivots > 0) throw std::runtime_error("the sheet is not held");
  change_ = system.solve(load);
}

Eigen::Vector3d LinearResponse::displacement(int node) const {
  Eigen::Vector3d result = Eigen::Vector3d::Zero();
  for (int c = 0; c < 3; ++c)
    if (const int eq = model_.equations.of_node(node, c); eq >= 0) result(c) = change_(eq);
  return result;
}

Eigen::VectorXd area_load(const solver::SheetModel& model, const Eigen::Vector3d& load) {
  Eigen::VectorXd force = Eigen::VectorXd::Zero(model.equations.count);
  for (int t = 0; t < model.n_triangles(); ++t)
    for (int i = 0; i < 9; ++i)
      if (const int eq = model.triangle_equations(t, i); eq >= 0)
        force(eq) += model.references[t].area / 3 * load(i % 3);
  return force;
}

Eigen::VectorXd point_load(const solver::SheetModel& model, int node, const Eigen::Vector3d& force) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(model.equations.count);
  for (int c = 0; c < 3; ++c)
    if (const int eq = model.equations.of_node(node, c); eq >= 0) load(eq) = force(c);
  return load;
}

int node_at(const solver::SheetModel& model, const Eigen::Vector3d& point) {
  Eigen::Index node = 0;
  const double distance =
      (model.blank.mesh.nodes.rowwise() - point.transpose()).rowwise().norm().minCoeff(&node);
  if (distance > 1e-6 * model.mean_edge_length()) throw std::runtime_error("no node at the point");
  return static_cast<int>(node);
}

}  // namespace halftool::test
