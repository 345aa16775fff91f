#include "solver/assembly/linear_system.hpp"

#include <algorithm>
#include <chrono>
#include <stdexcept>

#include "solver/assembly/fill_order.hpp"

namespace halftool::solver {
namespace {

/// Adds the wall time of its life to a sum.
class Stopwatch {
 public:
  explicit Stopwatch(double& seconds) : seconds_(seconds), start_(std::chrono::steady_clock::now()) {}
  ~Stopwatch() {
    seconds_ += std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }
  Stopwatch(const Stopwatch&) = delete;
  Stopwatch& operator=(const Stopwatch&) = delete;

 private:
  double& seconds_;
  std::chrono::steady_clock::time_point start_;
};

/// After an indefinite matrix the next few are likely indefinite too; Cholesky is tried again after this
/// many.
constexpr int kStayIndefinite = 3;

/// From so many equations on they are eliminated in two parts, which on two threads takes 0.7 of the time of
/// one part at 10,000 and 0.55 from 100,000 on (benchmarks/linear_solve.cpp).
constexpr int kTwoParts = 8'000;

}  // namespace

struct LinearSystem::State {
  State(const SparsityPattern& pattern, const FillOrder& order, int threads)
      : n_equations(pattern.n_equations()),
        n_values(pattern.n_values()),
        cholesky(pattern, order, threads),
        indefinite(pattern, order.order) {}

  FactorOutcome try_cholesky(const Eigen::Ref<const Eigen::VectorXd>& values) {
    FactorOutcome outcome = cholesky.factorise(values);
    if (outcome.ok) factors = Factors::kCholesky;
    return outcome;
  }

  FactorOutcome try_indefinite(const Eigen::Ref<const Eigen::VectorXd>& values) {
    FactorOutcome outcome = indefinite.factorise(values);
    if (outcome.ok) factors = Factors::kIndefinite;
    return outcome;
  }

  FactorOutcome factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
    if (!values.allFinite()) return {.message = "the matrix holds an entry that is not finite"};
    if (stay_indefinite > 0) {
      --stay_indefinite;
    } else {
      FactorOutcome outcome = try_cholesky(values);
      if (outcome.ok || outcome.singular) return outcome;
      ++use.wasted_cholesky;
    }
    FactorOutcome outcome = try_indefinite(values);
    if (outcome.negative_pivots > 0) stay_indefinite = kStayIndefinite;
    return outcome;
  }

  int n_equations, n_values;
  LinearSystemUse use;
  CholeskyFactor cholesky;
  IndefiniteFactor indefinite;
  enum class Factors { kNone, kCholesky, kIndefinite } factors = Factors::kNone;
  int stay_indefinite = 0;
};

LinearSystem::LinearSystem(const SparsityPattern& pattern, const std::vector<int>& group_of_equation,
                           int threads) {
  if (pattern.n_equations() == 0) throw std::invalid_argument("a linear system without equations");
  double seconds = 0;
  {
    const Stopwatch watch(seconds);
    state_ = std::make_unique<State>(
        pattern, fill_reducing_order(pattern, group_of_equation, pattern.n_equations() < kTwoParts ? 0 : 1),
        threads);
  }
  state_->use.analyse_seconds = seconds;
}

LinearSystem::~LinearSystem() = default;
LinearSystem::LinearSystem(LinearSystem&&) noexcept = default;
LinearSystem& LinearSystem::operator=(LinearSystem&&) noexcept = default;

int LinearSystem::n_equations() const {
  return state_->n_equations;
}
const LinearSystemUse& LinearSystem::use() const {
  return state_->use;
}

int LinearSystem::stays_indefinite() const {
  return state_->stay_indefinite;
}
void LinearSystem::stay_indefinite(int factorisations) {
  state_->stay_indefinite = factorisations;
}

FactorOutcome LinearSystem::factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
  if (values.size() != state_->n_values)
    throw std::logic_error("linear system of " + std::to_string(state_->n_values) + " values was given " +
                           std::to_string(values.size()));
  LinearSystemUse& use = state_->use;
  const Stopwatch watch(use.factorise_seconds);
  state_->factors = State::Factors::kNone;
  FactorOutcome outcome = state_->factorise(values);
  ++use.factorisations;
  if (outcome.negative_pivots > 0) ++use.indefinite;
  if (!outcome.ok) ++use.refused;
  use.most_negative_pivots = std::max(use.most_negative_pivots, outcome.negative_pivots);
  return outcome;
}

Eigen::MatrixXd LinearSystem::solve(const Eigen::Ref<const Eigen::MatrixXd>& rhs) {
  if (state_->factors == State::Factors::kNone) throw std::logic_error("solve without factors");
  if (rhs.rows() != state_->n_equations)
    throw std::logic_error("linear system of " + std::to_string(state_->n_equations) +
                           " equations was given a right-hand side of " + std::to_string(rhs.rows()));
  const Stopwatch watch(state_->use.solve_seconds);
  state_->use.solutions += static_cast<int>(rhs.cols());
  Eigen::MatrixXd solution = rhs;
  if (state_->factors == State::Factors::kCholesky)
    state_->cholesky.solve_in_place(solution);
  else
    state_->indefinite.solve_in_place(solution);
  return solution;
}

}  // namespace halftool::solver
