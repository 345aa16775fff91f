#include "tests/support/driven_sheet.hpp"

#include <stdexcept>
#include <string>

#include "solver/springback/release.hpp"

namespace halftool::test {
namespace {

constexpr double kForceTolerance = 1e-6;
constexpr double kLeastStep = 1e-3;

solver::SolverSettings settings() {
  solver::SolverSettings settings;
  settings.threads = 1;
  return settings;
}

solver::Loading loading_on(const mesh::ToolSurface& tool, const solver::ContactLaw& contact) {
  solver::Loading loading;
  loading.normal_stress = loading.edges_loaded = false;
  loading.tool = &tool;
  loading.contact = contact;
  return loading;
}

}  // namespace

DrivenSheet::DrivenSheet(const solver::SheetModel& model, const mesh::ToolSurface& tool,
                         const solver::ContactLaw& contact, double reference_force)
    : model_(model),
      solver_(model, settings(), record_),
      loading_(loading_on(tool, contact)),
      reference_force_(reference_force),
      state_(solver::initial_state(model)),
      dead_load_(Eigen::VectorXd::Zero(model.equations.count)),
      change_(Eigen::VectorXd::Zero(model.equations.count)) {}

void DrivenSheet::lower(double way) {
  state_.place.positions.col(2).array() -= way;
  for (solver::TriangleMemory& memory : state_.memory) memory.middle.z() -= way;
}

solver::IncrementResult DrivenSheet::balance(const solver::SheetPlace& guess,
                                             const solver::Loading& loading) {
  solver::Tolerances tolerances;
  tolerances.force = kForceTolerance;
  tolerances.reference_force = reference_force_;
  return solver_.solve(state_, {guess, 0}, loading, solver::Control{},
                       Eigen::VectorXd::Zero(model_.equations.count), tolerances);
}

void DrivenSheet::take(const solver::IncrementResult& found) {
  held_force_ = found.balance.held_resultant;
  state_ = solver::accept(model_, state_, found.place, found.balance, 0);
}

void DrivenSheet::go(const Eigen::VectorXd& dead_load, const Eigen::Vector3d& way) {
  const Eigen::VectorXd start = dead_load_;
  double share = 0, step = 1, taken = 1;
  while (share < 1 - 1e-12) {
    step = std::min(step, 1 - share);
    dead_load_ = start + (share + step) * (dead_load - start);
    solver_.set_dead_load(dead_load_);
    solver::SheetPlace guess = solver::moved(state_.place, model_.equations, step / taken * change_);
    for (Eigen::Index node = 0; node < guess.positions.rows(); ++node)
      if ((model_.equations.of_node.row(node).array() < 0).all())
        guess.positions.row(node) += step * way.transpose();
    const solver::IncrementResult found = balance(guess, loading_);
    if (found.converged) {
      change_ = solver::difference(found.place, state_.place, model_.equations);
      take(found);
      share += step;
      taken = step;
      step *= 1.5;
    } else {
      step *= 0.5;
      if (step < kLeastStep) throw std::runtime_error("the driven sheet finds no balance: " + found.reason);
    }
  }
  change_ /= taken;  // a whole step like this one
}

void DrivenSheet::release() {
  const double stiffness = model_.section.material().youngs_modulus * model_.blank.thickness;
  solver::Loading loading = loading_;
  loading.tool = nullptr;
  solver_.set_dead_load(Eigen::VectorXd::Zero(model_.equations.count));
  solver_.hold(solver::minimal_supports(model_, state_.place.positions), stiffness);
  const solver::IncrementResult found = balance(state_.place, loading);
  if (!found.converged) throw std::runtime_error("the released sheet finds no balance: " + found.reason);
  take(found);
  solver_.hold({}, 0);
}

}  // namespace halftool::test
