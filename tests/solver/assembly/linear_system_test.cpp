#include "solver/assembly/linear_system.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <limits>
#include <memory>
#include <stdexcept>
#include <tuple>

#include "solver/assembly/fill_order.hpp"
#include "tests/support/plate_system.hpp"

namespace halftool::solver {
namespace {

struct Problem {
  explicit Problem(int divisions, bool free = false)
      : plate(support::make_plate_system(divisions, free)), pattern(plate.equations, plate.n_equations) {}

  [[nodiscard]] LinearSystem system() const { return {pattern, plate.group_of_equation}; }
  [[nodiscard]] Eigen::VectorXd values(int seed = 0, double shift = 0) const {
    return support::assemble(pattern, seed, shift);
  }
  [[nodiscard]] Eigen::MatrixXd rhs(int columns = 1) const {
    Eigen::MatrixXd b(plate.n_equations, columns);
    for (int j = 0; j < columns; ++j) b.col(j) = Eigen::VectorXd::LinSpaced(plate.n_equations, -1, 1 + j);
    return b;
  }
  [[nodiscard]] double residual(const Eigen::VectorXd& values, const Eigen::VectorXd& x,
                                const Eigen::VectorXd& b) const {
    return (pattern.multiply(values, x) - b).norm() / b.norm();
  }

  support::PlateSystem plate;
  SparsityPattern pattern;
};

int negative_eigenvalues(const Problem& problem, const Eigen::VectorXd& values) {
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(support::to_dense(problem.pattern, values),
                                                              Eigen::EigenvaluesOnly);
  return static_cast<int>((solver.eigenvalues().array() < 0).count());
}

TEST(LinearSystem, SolvesAPositiveDefiniteSystem) {
  const Problem problem(10);
  LinearSystem system = problem.system();
  const Eigen::VectorXd values = problem.values();

  const FactorOutcome outcome = system.factorise(values);

  ASSERT_TRUE(outcome.ok) << outcome.message;
  EXPECT_TRUE(outcome.positive_definite());
  const Eigen::VectorXd x = system.solve(problem.rhs());
  EXPECT_LT(problem.residual(values, x, problem.rhs()), 1e-11);
  const Eigen::VectorXd dense = support::to_dense(problem.pattern, values).llt().solve(problem.rhs());
  EXPECT_LT((x - dense).norm(), 1e-10 * dense.norm());
}

TEST(LinearSystem, FactorisesNewValues) {
  const Problem problem(10);
  LinearSystem system = problem.system();
  ASSERT_TRUE(system.factorise(problem.values(0)).ok);

  const Eigen::VectorXd second = problem.values(1);
  ASSERT_TRUE(system.factorise(second).ok);

  EXPECT_LT(problem.residual(second, system.solve(problem.rhs()), problem.rhs()), 1e-11);
  EXPECT_EQ(system.use().factorisations, 2);
}

TEST(LinearSystem, SolvesSeveralRightHandSides) {
  const Problem problem(8);
  for (const double shift : {0.0, 1.0}) {
    LinearSystem system = problem.system();
    const Eigen::VectorXd values = problem.values(0, shift);
    ASSERT_TRUE(system.factorise(values).ok);

    const Eigen::MatrixXd rhs = problem.rhs(3);
    const Eigen::MatrixXd x = system.solve(rhs);

    for (int j = 0; j < 3; ++j) EXPECT_LT(problem.residual(values, x.col(j), rhs.col(j)), 1e-10) << j;
  }
}

class Indefinite : public testing::TestWithParam<double> {};

TEST_P(Indefinite, CountsNegativePivotsLikeADenseEigensolver) {
  const Problem problem(8);
  LinearSystem system = problem.system();
  const Eigen::VectorXd values = problem.values(0, GetParam());
  const int expected = negative_eigenvalues(problem, values);
  ASSERT_GT(expected, 0);

  const FactorOutcome outcome = system.factorise(values);

  ASSERT_TRUE(outcome.ok) << outcome.message;
  EXPECT_EQ(outcome.negative_pivots, expected);
  EXPECT_FALSE(outcome.positive_definite());
  EXPECT_LT(problem.residual(values, system.solve(problem.rhs()), problem.rhs()), 1e-9);
  EXPECT_EQ(system.use().most_negative_pivots, expected);
}

INSTANTIATE_TEST_SUITE_P(Shifts, Indefinite, testing::Values(0.03, 0.3, 1.0, 3.0));

TEST(LinearSystem, ReturnsToCholeskyOnceTheMatrixIsPositiveDefiniteAgain) {
  const Problem problem(8);
  LinearSystem system = problem.system();
  const Eigen::VectorXd indefinite = problem.values(0, 1.0), definite = problem.values(0);
  for (int i = 0; i < 3; ++i) EXPECT_GT(system.factorise(indefinite).negative_pivots, 0);
  EXPECT_EQ(system.use().wasted_cholesky, 1);  // the second and third did not try

  for (int i = 0; i < 6; ++i) {
    const FactorOutcome outcome = system.factorise(definite);
    EXPECT_TRUE(outcome.positive_definite()) << outcome.message;
    EXPECT_LT(problem.residual(definite, system.solve(problem.rhs()), problem.rhs()), 1e-11);
  }
  EXPECT_EQ(system.use().wasted_cholesky, 1);
  EXPECT_EQ(system.use().indefinite, 3);
}

class Singular : public testing::TestWithParam<int> {};

TEST_P(Singular, IsReportedByEitherFactorisation) {
  const Problem problem(GetParam(), true);
  LinearSystem system = problem.system();

  const FactorOutcome outcome = system.factorise(problem.values());

  EXPECT_TRUE(outcome.singular) << outcome.negative_pivots << outcome.message;
  EXPECT_FALSE(outcome.ok);
  EXPECT_FALSE(outcome.message.empty());
  EXPECT_EQ(system.use().refused, 1);
  EXPECT_THROW((void)system.solve(problem.rhs()), std::logic_error);
  IndefiniteFactor indefinite(problem.pattern,
                              fill_reducing_order(problem.pattern, problem.plate.group_of_equation).order);
  EXPECT_TRUE(indefinite.factorise(problem.values()).singular);
}

INSTANTIATE_TEST_SUITE_P(Sizes, Singular, testing::Values(2, 5, 10, 20, 40, 60));

/// Number of halvings and of threads.
class InParts : public testing::TestWithParam<std::tuple<int, int>> {
 protected:
  static std::unique_ptr<CholeskyFactor> factor(const Problem& problem) {
    const auto [halvings, threads] = GetParam();
    return std::make_unique<CholeskyFactor>(
        problem.pattern, fill_reducing_order(problem.pattern, problem.plate.group_of_equation, halvings),
        threads);
  }
};

TEST_P(InParts, SolvesAndSolvesAgainWithNewValues) {
  const Problem problem(20);
  const auto cholesky = factor(problem);
  for (const int seed : {0, 1}) {
    const Eigen::VectorXd values = problem.values(seed);
    ASSERT_TRUE(cholesky->factorise(values).ok);

    Eigen::MatrixXd x = problem.rhs(2);
    cholesky->solve_in_place(x);

    for (int j = 0; j < 2; ++j)
      EXPECT_LT(problem.residual(values, x.col(j), problem.rhs(2).col(j)), 1e-11) << seed << ' ' << j;
  }
}

TEST_P(InParts, GivesTheSameBitsOnAnyNumberOfThreads) {
  const Problem problem(20);
  const auto cholesky = factor(problem);
  CholeskyFactor alone(
      problem.pattern,
      fill_reducing_order(problem.pattern, problem.plate.group_of_equation, std::get<0>(GetParam())), 1);
  Eigen::MatrixXd x = problem.rhs(2), expected = problem.rhs(2);
  ASSERT_TRUE(cholesky->factorise(problem.values()).ok);
  ASSERT_TRUE(alone.factorise(problem.values()).ok);

  cholesky->solve_in_place(x);
  alone.solve_in_place(expected);

  EXPECT_EQ(x, expected);
}

TEST_P(InParts, RefusesAMatrixThatIsNotPositiveDefinite) {
  const Problem problem(20);
  const auto cholesky = factor(problem);
  // A negative pivot may lie in a part or, with the smallest shifts that make one, in the interface alone.
  for (const double shift : {1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1.0}) {
    const Eigen::VectorXd values = problem.values(0, shift);
    const bool definite =
        IndefiniteFactor(problem.pattern,
                         fill_reducing_order(problem.pattern, problem.plate.group_of_equation).order)
            .factorise(values)
            .positive_definite();
    const FactorOutcome outcome = cholesky->factorise(values);
    EXPECT_EQ(outcome.ok, definite) << shift;
    EXPECT_FALSE(outcome.singular);
  }
  EXPECT_TRUE(cholesky->factorise(problem.values()).ok);
}

TEST_P(InParts, TellsASingularMatrix) {
  const Problem problem(20, true);
  const FactorOutcome outcome = factor(problem)->factorise(problem.values());
  EXPECT_FALSE(outcome.ok);
  EXPECT_TRUE(outcome.singular || outcome.message == "not positive definite") << outcome.message;
}

TEST_P(InParts, ManagesWithPartsThatAreEmptyOrApart) {
  const Problem tiny(1);
  const auto of_tiny = factor(tiny);
  ASSERT_TRUE(of_tiny->factorise(tiny.values()).ok);
  Eigen::MatrixXd x = tiny.rhs();
  of_tiny->solve_in_place(x);
  EXPECT_LT(tiny.residual(tiny.values(), x, tiny.rhs()), 1e-12);

  Problem twins(4);  // two plates that share nothing
  const int n = twins.plate.n_equations;
  const ElementEquations one = twins.plate.equations;
  twins.plate.equations.conservativeResize(2 * one.rows(), Eigen::NoChange);
  twins.plate.equations.bottomRows(one.rows()) = (one.array() < 0).select(one, one.array() + n);
  twins.plate.n_equations = 2 * n;
  const int n_groups = 1 + twins.plate.group_of_equation.back();
  for (int i = 0; i < n; ++i)
    twins.plate.group_of_equation.push_back(twins.plate.group_of_equation[i] + n_groups);
  twins.pattern = SparsityPattern(twins.plate.equations, 2 * n);
  const auto of_twins = factor(twins);
  ASSERT_TRUE(of_twins->factorise(twins.values()).ok);
  x = twins.rhs();
  of_twins->solve_in_place(x);
  EXPECT_LT(twins.residual(twins.values(), x, twins.rhs()), 1e-11);
}

INSTANTIATE_TEST_SUITE_P(HalvingsAndThreads, InParts,
                         testing::Combine(testing::Values(0, 1, 2), testing::Values(1, 2, 3)));

TEST(LinearSystem, SurvivesARefusedMatrix) {
  const Problem problem(5);
  LinearSystem system = problem.system();
  Eigen::VectorXd not_finite = problem.values();
  not_finite[7] = std::numeric_limits<double>::quiet_NaN();

  EXPECT_FALSE(system.factorise(not_finite).ok);
  EXPECT_FALSE(system.factorise(Eigen::VectorXd::Zero(problem.pattern.n_values())).ok);

  ASSERT_TRUE(system.factorise(problem.values()).ok);
  EXPECT_LT(problem.residual(problem.values(), system.solve(problem.rhs()), problem.rhs()), 1e-11);
}

TEST(LinearSystem, ToleratesPoorScalingWithoutCallingItSingular) {
  const Problem problem(10);
  LinearSystem system = problem.system();
  Eigen::VectorXd values = problem.values();
  const Eigen::VectorXd scale =
      Eigen::VectorXd::LinSpaced(problem.plate.n_equations, -4, 4).unaryExpr([](double x) {
        return std::pow(10, x);
      });
  for (int column = 0; column < problem.plate.n_equations; ++column)
    for (int k = problem.pattern.column_starts()[column]; k < problem.pattern.column_starts()[column + 1];
         ++k)
      values[k] *= scale[column] * scale[problem.pattern.rows()[k]];

  EXPECT_TRUE(system.factorise(values).positive_definite());
}

TEST(LinearSystem, GivesTheSameBitsEveryTime) {
  const Problem problem(20);
  for (const double shift : {0.0, 1.0}) {
    LinearSystem first = problem.system(), second = problem.system();
    ASSERT_TRUE(first.factorise(problem.values(0, shift)).ok);
    ASSERT_TRUE(second.factorise(problem.values(1, shift)).ok);  // another history
    ASSERT_TRUE(second.factorise(problem.values(0, shift)).ok);

    EXPECT_EQ(first.solve(problem.rhs(2)), second.solve(problem.rhs(2)));
  }
}

TEST(LinearSystem, RefusesWrongSizes) {
  const Problem problem(3);
  LinearSystem system = problem.system();
  EXPECT_THROW(system.factorise(Eigen::VectorXd::Ones(3)), std::logic_error);
  ASSERT_TRUE(system.factorise(problem.values()).ok);
  EXPECT_THROW((void)system.solve(Eigen::VectorXd::Ones(3)), std::logic_error);
}

TEST(LinearSystem, RefusesASystemWithoutEquations) {
  const SparsityPattern pattern(ElementEquations(0, kTriangleUnknowns), 0);
  EXPECT_THROW(LinearSystem(pattern, {}), std::invalid_argument);
}

}  // namespace
}  // namespace halftool::solver
