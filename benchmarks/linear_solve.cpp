// Cholesky against the symmetric indefinite factorisation on the pattern of the shell, and in parts.
#include <benchmark/benchmark.h>

#include "solver/assembly/factor.hpp"
#include "solver/assembly/fill_order.hpp"
#include "solver/assembly/linear_system.hpp"
#include "tests/support/plate_system.hpp"

namespace {

using namespace halftool;  // NOLINT(google-build-using-namespace): a benchmark program

struct Problem {
  explicit Problem(int divisions, int halvings = 0)
      : plate(support::make_plate_system(divisions)),
        pattern(plate.equations, plate.n_equations),
        order(solver::fill_reducing_order(pattern, plate.group_of_equation, halvings)),
        values(support::assemble(pattern)) {}
  support::PlateSystem plate;
  solver::SparsityPattern pattern;
  solver::FillOrder order;
  Eigen::VectorXd values;
};

template <class Factor>
Factor make_factor(const Problem& problem, int threads = 1);
template <>
solver::CholeskyFactor make_factor(const Problem& problem, int threads) {
  return {problem.pattern, problem.order, threads};
}
template <>
solver::IndefiniteFactor make_factor(const Problem& problem, int /*threads*/) {
  return {problem.pattern, problem.order.order};
}

void count_equations(benchmark::State& state, const Problem& problem) {
  state.counters["equations"] = problem.plate.n_equations;
}

void order(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)));
  for (auto _ : state)
    benchmark::DoNotOptimize(solver::fill_reducing_order(problem.pattern, problem.plate.group_of_equation));
  count_equations(state, problem);
}

void scatter(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)));
  const solver::TriangleMatrix matrix = support::element_matrix(0);
  Eigen::VectorXd values = problem.values;
  for (auto _ : state) {
    values.setZero();
    for (int element = 0; element < problem.pattern.n_elements(); ++element)
      problem.pattern.scatter(element, matrix, values);
    benchmark::ClobberMemory();
  }
  count_equations(state, problem);
}

template <class Factor>
void analyse_and_factorise(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)));
  for (auto _ : state) {
    auto factor = make_factor<Factor>(problem);
    benchmark::DoNotOptimize(factor.factorise(problem.values));
  }
  count_equations(state, problem);
}

template <class Factor>
void refactorise(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)));
  auto factor = make_factor<Factor>(problem);
  if (!factor.factorise(problem.values).ok) state.SkipWithError("factorisation failed");
  for (auto _ : state) benchmark::DoNotOptimize(factor.factorise(problem.values));
  count_equations(state, problem);
}

/// Arguments: divisions, halvings and threads. Each round factorises once and solves with two right-hand
/// sides.
void in_parts(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)), static_cast<int>(state.range(1)));
  auto factor = make_factor<solver::CholeskyFactor>(problem, static_cast<int>(state.range(2)));
  Eigen::MatrixXd solution(problem.plate.n_equations, 2);
  for (auto _ : state) {
    if (!factor.factorise(problem.values).ok) state.SkipWithError("factorisation failed");
    solution.setOnes();
    factor.solve_in_place(solution);
    benchmark::ClobberMemory();
  }
  count_equations(state, problem);
}

/// Two right-hand sides, as volume control has.
template <class Factor>
void solve_two(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)));
  auto factor = make_factor<Factor>(problem);
  if (!factor.factorise(problem.values).ok) state.SkipWithError("factorisation failed");
  const Eigen::MatrixXd rhs = Eigen::MatrixXd::Ones(problem.plate.n_equations, 2);
  Eigen::MatrixXd solution = rhs;
  for (auto _ : state) {
    solution = rhs;
    factor.solve_in_place(solution);
    benchmark::ClobberMemory();
  }
  count_equations(state, problem);
}

/// Cholesky until it meets the negative pivot of a matrix that is just not positive definite.
void refused_cholesky(benchmark::State& state) {
  const Problem problem(static_cast<int>(state.range(0)));
  const Eigen::VectorXd values = support::assemble(problem.pattern, 0, 0.3);
  auto factor = make_factor<solver::CholeskyFactor>(problem);
  auto indefinite = make_factor<solver::IndefiniteFactor>(problem);
  state.counters["negative"] = indefinite.factorise(values).negative_pivots;
  for (auto _ : state) benchmark::DoNotOptimize(factor.factorise(values));
  count_equations(state, problem);
}

// 15, 47, 105 and 250 divisions: about 2,000, 20,000, 100,000 and 560,000 equations.
void sizes(benchmark::internal::Benchmark* benchmark) {
  benchmark->Arg(15)->Arg(18)->Arg(47)->Arg(105)->Arg(250)->Unit(benchmark::kMillisecond);
}

BENCHMARK(order)->Apply(sizes);
BENCHMARK(scatter)->Apply(sizes);
BENCHMARK_TEMPLATE(analyse_and_factorise, solver::CholeskyFactor)->Apply(sizes);
BENCHMARK_TEMPLATE(analyse_and_factorise, solver::IndefiniteFactor)->Apply(sizes);
BENCHMARK_TEMPLATE(refactorise, solver::CholeskyFactor)->Apply(sizes);
BENCHMARK_TEMPLATE(refactorise, solver::IndefiniteFactor)->Apply(sizes);
BENCHMARK_TEMPLATE(solve_two, solver::CholeskyFactor)->Apply(sizes);
BENCHMARK_TEMPLATE(solve_two, solver::IndefiniteFactor)->Apply(sizes);
BENCHMARK(refused_cholesky)->Apply(sizes);
BENCHMARK(in_parts)
    ->ArgsProduct({{15, 33, 47, 105, 250}, {0, 1, 2}, {1, 2}})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
