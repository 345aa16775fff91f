#include "tests/support/followed_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/assembly/equations.hpp"

namespace halftool::test {
namespace {

constexpr int kMostIterations = 12;
constexpr int kFewIterations = 4;          // the next increment is longer
constexpr double kForceTolerance = 1e-5;   // over the whole dead load
constexpr double kMotionTolerance = 1e-3;  // of the last correction, over the increment
constexpr double kLargestCorrection = 10;  // over the increment: the iteration runs away
constexpr double kLeastCosine = 0.5;       // between the motions of two increments
constexpr double kShortest = 1e-5;         // over the longest

solver::Loading no_pressure() {
  solver::Loading loading;
  loading.normal_stress = false;
  loading.edges_loaded = false;
  return loading;
}

Eigen::VectorXd nodal_weights(const solver::Equations& equations) {
  Eigen::VectorXd weight = Eigen::VectorXd::Zero(equations.count);
  for (Eigen::Index node = 0; node < equations.of_node.rows(); ++node)
    for (int c = 0; c < 3; ++c)
      if (const int eq = equations.of_node(node, c); eq >= 0)
        weight(eq) = 1 / std::sqrt(static_cast<double>(equations.of_node.rows()));
  return weight;
}

}  // namespace

struct FollowedSheet::Trial {
  Eigen::VectorXd motion;  // from the last state
  double share = 0;
  Eigen::VectorXd plane;  // its normal, that times a motion is a length; empty: the share stays
  double length = 0;      // from the last state to the plane; of a motion at a given share its size
  solver::Balance balance;
  int iterations = 0;
};

FollowedSheet::FollowedSheet(const solver::SheetModel& model, const Eigen::VectorXd& dead_load,
                             double longest, int leading)
    : model_(model),
      dead_load_(dead_load),
      longest_(longest),
      leading_(leading),
      length_(longest),
      pattern_(model.triangle_equations, model.equations.count),
      system_(pattern_, solver::equation_groups(model.equations)),
      state_(solver::initial_state(model)),
      weight_(nodal_weights(model.equations)) {}

void FollowedSheet::start() {
  const solver::Balance at_rest =
      solver::balance(model_, pattern_, state_, state_.place, no_pressure(), true, 1);
  if (!at_rest.valid || !system_.factorise(at_rest.stiffness).ok)
    throw std::runtime_error("the sheet without load is not held");
  motion_ = system_.solve(dead_load_);
  share_motion_ = 1;
}

void FollowedSheet::load_to(double share) {
  while (share_ < share) advance(share);
}

void FollowedSheet::advance(double most_share) {
  if (motion_.size() == 0) start();
  for (; length_ > kShortest * longest_; length_ *= 0.5) {
    if (!step_to(leading_ >= 0 ? plane_of_leading() : plane_across(), length_, most_share)) continue;
    if (last_iterations_ <= kFewIterations) length_ = std::min(longest_, 1.5 * length_);
    return;
  }
  throw std::runtime_error("the path is lost at the share " + std::to_string(share_));
}

Eigen::VectorXd FollowedSheet::plane_of_leading() const {
  Eigen::VectorXd plane = Eigen::VectorXd::Zero(motion_.size());
  plane(leading_) = std::copysign(1.0, motion_(leading_));
  return plane;
}

Eigen::VectorXd FollowedSheet::plane_across() const {
  const Eigen::VectorXd weighted = motion_.cwiseProduct(weight_);
  return weighted.cwiseProduct(weight_) / weighted.norm();
}

// One increment to a plane, or to the share where that comes before.
bool FollowedSheet::step_to(const Eigen::VectorXd& plane, double length, double most_share) {
  const double scale = length / plane.dot(motion_);
  const Trial predicted{scale * motion_, share_ + scale * share_motion_, plane, length, {}, 0};
  Trial trial = predicted;
  if (predicted.share < most_share || !landed(most_share, trial)) {
    trial = predicted;
    if (!iterate(trial) || turned_back(trial)) return false;
    if (trial.share > most_share && !landed(most_share, trial)) return false;
  }
  take(trial);
  return true;
}

// A step too long for a sharp bend of the path ends on the piece that was come by.
bool FollowedSheet::turned_back(const Trial& trial) const {
  const Eigen::VectorXd before = motion_.cwiseProduct(weight_);
  const Eigen::VectorXd now = trial.motion.cwiseProduct(weight_);
  return before.dot(now) < kLeastCosine * before.norm() * now.norm();
}

// Equilibrium at a share between that of the last state and that of a trial beyond; takes the trial there.
bool FollowedSheet::landed(double share, Trial& trial) {
  const double part = (share - share_) / (trial.share - share_);
  Trial landing{part * trial.motion, share, {}, part * trial.length, {}, 0};
  if (!iterate(landing) || trial.plane.dot(landing.motion) > 2 * trial.length) return false;
  trial = landing;
  return true;
}

bool FollowedSheet::iterate(Trial& trial) {
  const double tolerance = kForceTolerance * dead_load_.norm();
  bool still = false;  // since the last correction
  for (; trial.iterations <= kMostIterations; ++trial.iterations) {
    const solver::SheetPlace place = solver::moved(state_.place, model_.equations, trial.motion);
    trial.balance = solver::balance(model_, pattern_, state_, place, no_pressure(), true, 1);
    if (!trial.balance.valid) return false;
    trial.balance.out_of_balance -= trial.share * dead_load_;
    if (still && trial.balance.out_of_balance.norm() < tolerance) return true;
    const Eigen::VectorXd before = trial.motion;
    if (!correct(trial)) return false;
    const double correction = (trial.motion - before).cwiseProduct(weight_).norm();
    if (correction > kLargestCorrection * trial.length) return false;
    still = correction < kMotionTolerance * trial.length;
  }
  return false;
}

// The bordered system of equilibrium and plane, by two solutions with the factors of the stiffness.
bool FollowedSheet::correct(Trial& trial) {
  if (!system_.factorise(trial.balance.stiffness).ok) return false;
  Eigen::MatrixXd rhs(model_.equations.count, 2);
  rhs << -trial.balance.out_of_balance, dead_load_;
  const Eigen::MatrixXd solution = system_.solve(rhs);
  trial.motion += solution.col(0);
  if (trial.plane.size() != 0) {
    const double share = (trial.length - trial.plane.dot(trial.motion)) / trial.plane.dot(solution.col(1));
    trial.motion += share * solution.col(1);
    trial.share += share;
  }
  return trial.motion.allFinite();
}

void FollowedSheet::take(const Trial& trial) {
  last_iterations_ = trial.iterations;
  motion_ = trial.motion;
  share_motion_ = trial.share - share_;
  share_ = trial.share;
  state_ = solver::accept(model_, state_, solver::moved(state_.place, model_.equations, trial.motion),
                          trial.balance, 0);
}

Eigen::Vector3d FollowedSheet::displacement(int node) const {
  return (state_.place.positions.row(node) - model_.blank.mesh.nodes.row(node)).transpose();
}

}  // namespace halftool::test
