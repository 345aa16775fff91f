#include "tests/support/loaded_sheet.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

namespace halftool::test {
namespace {

constexpr double kForceTolerance = 1e-4;   // over the load; thin sheets round off at some 1e-5
constexpr double kMotionTolerance = 1e-5;  // of the last correction, over the mean edge length
constexpr double kLeastStep = 1e-4;        // share of the whole load
// Far from balance the solver adds to its tangent a stiffness that suits pressed parts and grows with the
// out-of-balance force over the reference. It would swamp that of the soft strips and rings of benchmarks, so
// that they take a reference at which it vanishes, and a tolerance taken down in proportion.
constexpr double kNoDamping = 1e6;

solver::SolverSettings settings() {
  solver::SolverSettings settings;
  settings.threads = 1;
  settings.most_iterations = 30;
  return settings;
}

solver::Loading loading(double pressure) {
  solver::Loading loading;
  loading.pressure = pressure;
  loading.normal_stress = false;
  loading.edges_loaded = false;
  return loading;
}

Eigen::Vector3d edge_vector(const mesh::Blank& blank, int edge) {
  return (blank.mesh.nodes.row(blank.edges.nodes(edge, 1)) - blank.mesh.nodes.row(blank.edges.nodes(edge, 0)))
      .transpose();
}

}  // namespace

std::vector<int> border_edges(const mesh::Blank& blank, const std::function<bool(int)>& chosen) {
  std::vector<int> found;
  for (int e = 0; e < blank.edges.n_edges(); ++e)
    if (blank.edges.is_boundary(e) && chosen(blank.edges.nodes(e, 0)) && chosen(blank.edges.nodes(e, 1)))
      found.push_back(e);
  return found;
}

void clamp_border(mesh::Blank& blank, const std::function<bool(int)>& chosen) {
  for (int e = 0; e < blank.edges.n_edges(); ++e)
    if (blank.edges.is_boundary(e)) blank.edge_kind[e] = mesh::EdgeKind::hole;
  for (const int e : border_edges(blank, chosen)) blank.edge_kind[e] = mesh::EdgeKind::outer;
  blank.rim_held = true;
}

solver::SheetModel elastic_model(const mesh::Blank& blank, double youngs_modulus, double poissons_ratio,
                                 bool bows) {
  const solver::SheetMaterial metal{.name = "elastic",
                                    .source = "benchmark",
                                    .grade = "exact",
                                    .youngs_modulus = youngs_modulus,
                                    .poissons_ratio = poissons_ratio,
                                    .hardening = solver::SwiftHardening{youngs_modulus, 1, 0.5}};
  solver::SheetModel model = solver::make_model(blank, metal, 3, bows);
  model.elastic = true;
  return model;
}

Eigen::VectorXd node_force(const solver::SheetModel& model, int node, const Eigen::Vector3d& force) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(model.equations.count);
  for (int c = 0; c < 3; ++c)
    if (const int eq = model.equations.of_node(node, c); eq >= 0) load(eq) = force(c);
  return load;
}

Eigen::VectorXd edge_force(const solver::SheetModel& model, const std::vector<int>& edges,
                           const Eigen::Vector3d& traction) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(model.equations.count);
  for (const int edge : edges) {
    const double half = 0.5 * edge_vector(model.blank, edge).norm();
    for (int end = 0; end < 2; ++end)
      for (int c = 0; c < 3; ++c)
        if (const int eq = model.equations.of_node(model.blank.edges.nodes(edge, end), c); eq >= 0)
          load(eq) += half * traction(c);
  }
  return load;
}

Eigen::VectorXd edge_moment(const solver::SheetModel& model, const std::vector<int>& edges,
                            const Eigen::Vector3d& moment) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(model.equations.count);
  for (const int edge : edges) load(model.equations.turn(edge)) = edge_vector(model.blank, edge).dot(moment);
  return load;
}

solver::IncrementResult solve_free(const solver::SheetModel& model, const solver::SheetState& committed,
                                   const solver::SheetPlace& guess, const solver::Tolerances& tolerances) {
  solver::RunRecord record;
  solver::IncrementSolver solver(model, settings(), record);
  return solver.solve(committed, {guess, 0}, loading(0), solver::Control{},
                      Eigen::VectorXd::Zero(model.equations.count), tolerances);
}

LoadedSheet::LoadedSheet(const solver::SheetModel& model, Eigen::VectorXd dead_load, double pressure)
    : model_(model),
      dead_load_(std::move(dead_load)),
      pressure_(pressure),
      solver_(model, settings(), record_),
      state_(solver::initial_state(model)),
      rate_(Eigen::VectorXd::Zero(model.equations.count)) {
  if (dead_load_.size() == 0) dead_load_ = Eigen::VectorXd::Zero(model.equations.count);
  const solver::Balance flat = solver_.evaluate(state_, state_.place, loading(0), false);
  whole_load_ = (dead_load_ + pressure_ * flat.pressure_force).norm();
}

void LoadedSheet::load_to(double share) {
  while (share_ < share - 1e-12) {
    const double next = std::min(share, share_ + step_);
    const double taken = next - share_;
    const solver::IncrementResult found = increment_to(next, kForceTolerance);
    if (found.converged) {
      rate_ = solver::difference(found.place, state_.place, model_.equations) / taken;
      share_ = next;
      take(found);
      if (taken > 0.99 * step_) step_ *= 1.5;
    } else {
      record_.cuts += 1;
      step_ = 0.5 * taken;
      if (step_ < kLeastStep)
        throw std::runtime_error("no equilibrium beyond the share " + std::to_string(share_));
    }
  }
}

void LoadedSheet::settle(double force_tolerance) {
  for (int count = 0; count < 30; ++count) {
    const solver::IncrementResult found = increment_to(share_, force_tolerance);
    if (!found.converged) break;
    take(found);
    if (found.iterations == 0) return;
  }
  throw std::runtime_error("the sheet does not settle at the share " + std::to_string(share_));
}

solver::IncrementResult LoadedSheet::increment_to(double share, double force_tolerance) {
  solver_.set_dead_load(share * dead_load_);
  solver::Tolerances tolerances;
  tolerances.force = force_tolerance / kNoDamping;
  tolerances.reference_force = kNoDamping * share * whole_load_;
  tolerances.motion = kMotionTolerance * model_.mean_edge_length();
  const solver::Guess guess{solver::moved(state_.place, model_.equations, (share - share_) * rate_),
                            share * pressure_};
  const Eigen::VectorXd no_volume = Eigen::VectorXd::Zero(model_.equations.count);
  solver::IncrementResult found =
      solver_.solve(state_, guess, loading(guess.pressure), solver::Control{}, no_volume, tolerances);
  record_.iterations += found.iterations;
  return found;
}

void LoadedSheet::take(const solver::IncrementResult& found) {
  record_.increments += 1;
  state_ = solver::accept(model_, state_, found.place, found.balance, found.pressure);
}

Eigen::Vector3d LoadedSheet::displacement(int node) const {
  return (state_.place.positions.row(node) - model_.blank.mesh.nodes.row(node)).transpose();
}

}  // namespace halftool::test
