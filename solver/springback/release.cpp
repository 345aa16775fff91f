#include "solver/springback/release.hpp"

#include <Eigen/LU>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/springback/unloading.hpp"
#include "solver/stepping/impasse.hpp"

namespace halftool::solver {
namespace {

// Translations along and rotations about the axes, restricted to free unknowns; (6, equations).
Eigen::MatrixXd rigid_motions(const SheetModel& model, const mesh::Points& positions) {
  Eigen::MatrixXd motions = Eigen::MatrixXd::Zero(6, model.equations.count);
  const Eigen::RowVector3d centre = positions.colwise().mean();
  const double size = (positions.rowwise() - centre).rowwise().norm().maxCoeff();
  for (Eigen::Index node = 0; node < positions.rows(); ++node) {
    const Eigen::RowVector3d arm = (positions.row(node) - centre) / size;
    for (int c = 0; c < 3; ++c) {
      const int eq = model.equations.of_node(node, c);
      if (eq < 0) continue;
      motions(c, eq) = 1;
      const int next = (c + 1) % 3;
      const int last = (c + 2) % 3;
      motions(3 + next, eq) = arm(last);  // rotation about `next` moves along c by +arm(last)
      motions(3 + last, eq) = -arm(next);
    }
  }
  return motions;
}

// A rigid motion is open if it moves no held unknown, turns included: an edge whose turn is held does not
// rotate about itself, so that a straight edge in a symmetry plane is no hinge. Keeps the combinations that
// do not violate the held ones.
Eigen::MatrixXd open_motions(const SheetModel& model, const mesh::Points& positions) {
  Eigen::Matrix<double, 6, 6> violation = Eigen::Matrix<double, 6, 6>::Zero();
  const Eigen::RowVector3d centre = positions.colwise().mean();
  const double size = (positions.rowwise() - centre).rowwise().norm().maxCoeff();
  for (Eigen::Index node = 0; node < positions.rows(); ++node) {
    const Eigen::RowVector3d arm = (positions.row(node) - centre) / size;
    for (int c = 0; c < 3; ++c) {
      if (model.equations.of_node(node, c) >= 0) continue;
      Eigen::Matrix<double, 6, 1> row = Eigen::Matrix<double, 6, 1>::Zero();
      row(c) = 1;
      row(3 + (c + 1) % 3) = arm((c + 2) % 3);
      row(3 + (c + 2) % 3) = -arm((c + 1) % 3);
      violation += row * row.transpose();
    }
  }
  for (int edge = 0; edge < model.blank.edges.n_edges(); ++edge) {
    if (model.equations.turn(edge) >= 0) continue;
    const auto ends = model.blank.edges.nodes.row(edge);
    Eigen::Matrix<double, 6, 1> row = Eigen::Matrix<double, 6, 1>::Zero();
    row.tail<3>() = (positions.row(ends(1)) - positions.row(ends(0))).normalized();
    violation += row * row.transpose();
  }
  Eigen::FullPivLU<Eigen::Matrix<double, 6, 6>> lu(violation);
  lu.setThreshold(1e-9);
  if (lu.dimensionOfKernel() == 0) return Eigen::MatrixXd(0, model.equations.count);
  const Eigen::MatrixXd kernel = lu.kernel();
  return kernel.transpose() * rigid_motions(model, positions);
}

// What the rounding of places leaves out of balance [N]: E t (t/h)^2 times the rounding, h being the shortest
// edge (bent strips of h/t from 0.13 to 0.27 were left with twice that).
double rounding_force(const SheetModel& model, const mesh::Points& positions) {
  const double thickness = model.blank.thickness;
  double shortest = thickness;
  for (const TriangleReference& reference : model.references)
    shortest = std::min(shortest, reference.length.minCoeff());
  const double finer = thickness / shortest;
  const double rounding = std::numeric_limits<double>::epsilon() * positions.cwiseAbs().maxCoeff();
  return model.section.material().youngs_modulus * thickness * finer * finer * rounding;
}

class Release {
 public:
  Release(IncrementSolver& solver, const FormedPart& formed, Monitor& monitor, RunRecord& record)
      : solver_(solver),
        model_(solver.model()),
        unloading_(solver, formed, monitor, record),
        record_(record) {}

  ReleasedPart run() {
    ReleasedPart part;
    part.unloaded = unloading_.lower_to(0);
    part.state = without_tool(part.unloaded);
    return part;
  }

  SheetState without_tool(SheetState state) {
    Loading loading = unloading_.loading_at(0);
    loading.tool = nullptr;
    const Eigen::VectorXi supports = minimal_supports(model_, state.place.positions);
    solver_.hold(supports, model_.section.material().youngs_modulus * model_.blank.thickness);
    const double above_rounding = 10 * rounding_force(model_, state.place.positions) / unloading_.reference();
    IncrementResult result = unloading_.balance_at(state, loading, std::max(1e-9, above_rounding));
    if (!result.converged)
      throw SolveError("the free part found no balance: " + result.reason +
                       place_of_impasse(model_, state, result, nullptr));
    record_.plastic_work = result.balance.plastic_work;
    record_.support_reaction = largest_reaction(state, result, supports);
    state = accept(model_, state, result.place, result.balance, 0);
    solver_.hold({}, 0);
    unloading_.report(Phase::free, state, nullptr, 1);
    return state;
  }

 private:
  [[nodiscard]] double largest_reaction(const SheetState& from, const IncrementResult& result,
                                        const Eigen::VectorXi& supports) const {
    const Eigen::VectorXd motion = difference(result.place, from.place, model_.equations);
    const double stiffness = model_.section.material().youngs_modulus * model_.blank.thickness;
    double largest = 0;
    for (const int eq : supports) largest = std::max(largest, std::abs(stiffness * motion(eq)));
    return largest;
  }

  IncrementSolver& solver_;
  const SheetModel& model_;
  Unloading unloading_;
  RunRecord& record_;
};

}  // namespace

Eigen::VectorXi minimal_supports(const SheetModel& model, const mesh::Points& positions) {
  const Eigen::MatrixXd motions = open_motions(model, positions);
  if (motions.rows() == 0) return {};
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(motions);
  return qr.colsPermutation().indices().head(motions.rows()).cast<int>();
}

ReleasedPart release(IncrementSolver& solver, const FormedPart& formed, Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  return Release(solver, formed, monitor, record).run();
}

SheetState free_balance(IncrementSolver& solver, const FormedPart& formed, const SheetState& start,
                        Monitor& monitor, RunRecord& record) {
  const OtherTime other(record);
  return Release(solver, formed, monitor, record).without_tool(start);
}

}  // namespace halftool::solver
