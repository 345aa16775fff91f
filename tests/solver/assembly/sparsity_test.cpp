#include "solver/assembly/sparsity.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "solver/assembly/fill_order.hpp"
#include "tests/support/plate_system.hpp"

namespace halftool::solver {
namespace {

Eigen::MatrixXd assemble_dense(const support::PlateSystem& plate) {
  Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(plate.n_equations, plate.n_equations);
  for (int element = 0; element < static_cast<int>(plate.equations.rows()); ++element) {
    const TriangleMatrix matrix = support::element_matrix(element);
    for (int i = 0; i < kTriangleUnknowns; ++i)
      for (int j = 0; j < kTriangleUnknowns; ++j) {
        const int row = plate.equations(element, i), column = plate.equations(element, j);
        if (row >= 0 && column >= 0) dense(row, column) += matrix(i, j);
      }
  }
  return dense;
}

TEST(SparsityPattern, ScattersLikeADenseAssembly) {
  const auto plate = support::make_plate_system(4);
  const SparsityPattern pattern(plate.equations, plate.n_equations);

  const Eigen::VectorXd values = support::assemble(pattern);

  const Eigen::MatrixXd expected = assemble_dense(plate);
  EXPECT_GT(expected.norm(), 1);
  EXPECT_LT((support::to_dense(pattern, values) - expected).norm(), 1e-14 * expected.norm());
}

TEST(SparsityPattern, StoresExactlyTheCoupledEntries) {
  const auto plate = support::make_plate_system(4);
  const SparsityPattern pattern(plate.equations, plate.n_equations);

  const Eigen::MatrixXd dense = assemble_dense(plate);
  const Eigen::Index coupled =
      (dense.triangularView<Eigen::Lower>().toDenseMatrix().array() != 0).cast<Eigen::Index>().sum();
  EXPECT_EQ(pattern.n_values(), coupled);
  for (int i = 0; i < pattern.n_equations(); ++i) EXPECT_EQ(pattern.rows()[pattern.diagonal_slot(i)], i);
}

TEST(SparsityPattern, KeepsTheDiagonalOfAnEquationWithoutElement) {
  ElementEquations equations(1, kTriangleUnknowns);
  for (int i = 0; i < kTriangleUnknowns; ++i) equations(0, i) = i;
  const SparsityPattern pattern(equations, kTriangleUnknowns + 1);

  EXPECT_EQ(pattern.n_values(), SparsityPattern::kEntries + 1);
  EXPECT_EQ(pattern.rows()[pattern.diagonal_slot(kTriangleUnknowns)], kTriangleUnknowns);
}

TEST(SparsityPattern, MultipliesLikeTheDenseMatrix) {
  const auto plate = support::make_plate_system(3);
  const SparsityPattern pattern(plate.equations, plate.n_equations);
  const Eigen::VectorXd values = support::assemble(pattern);
  const Eigen::VectorXd x = Eigen::VectorXd::LinSpaced(plate.n_equations, -1, 2);

  const Eigen::VectorXd expected = support::to_dense(pattern, values) * x;
  EXPECT_LT((pattern.multiply(values, x) - expected).norm(), 1e-14 * expected.norm());
}

TEST(SparsityPattern, RefusesEquationsOutOfRangeOrTwiceInAnElement) {
  const auto plate = support::make_plate_system(2);
  ElementEquations out_of_range = plate.equations;
  out_of_range(1, 3) = plate.n_equations;
  ElementEquations twice = plate.equations;
  twice(1, 10) = twice(1, 11);

  EXPECT_THROW(SparsityPattern(out_of_range, plate.n_equations), std::invalid_argument);
  EXPECT_THROW(SparsityPattern(twice, plate.n_equations), std::invalid_argument);
}

/// Entries of the Cholesky factor for an order of elimination, by symbolic elimination of a dense matrix.
int factor_entries(const Eigen::MatrixXd& matrix, const std::vector<int>& order) {
  const int n = static_cast<int>(order.size());
  Eigen::Array<bool, -1, -1> filled(n, n);
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) filled(i, j) = matrix(order[i], order[j]) != 0;
  int entries = 0;
  for (int k = 0; k < n; ++k)
    for (int i = k; i < n; ++i) {
      if (!filled(i, k)) continue;
      ++entries;
      for (int j = k + 1; j < n; ++j) filled(i, j) = filled(i, j) || filled(j, k);
    }
  return entries;
}

TEST(FillOrder, IsAPermutationThatKeepsGroupsTogetherAndCutsTheFill) {
  const auto plate = support::make_plate_system(8);
  const SparsityPattern pattern(plate.equations, plate.n_equations);

  const std::vector<int> order = fill_reducing_order(pattern, plate.group_of_equation).order;

  std::vector<int> natural(plate.n_equations);
  std::iota(natural.begin(), natural.end(), 0);
  EXPECT_TRUE(std::is_permutation(order.begin(), order.end(), natural.begin(), natural.end()));
  int changes = 0;
  for (size_t k = 1; k < order.size(); ++k)
    changes += plate.group_of_equation[order[k]] != plate.group_of_equation[order[k - 1]];
  std::vector<int> groups = plate.group_of_equation;
  std::sort(groups.begin(), groups.end());
  EXPECT_EQ(changes + 1, std::unique(groups.begin(), groups.end()) - groups.begin());
  const Eigen::MatrixXd dense = assemble_dense(plate);
  EXPECT_LT(factor_entries(dense, order), 0.5 * factor_entries(dense, natural));
}

class FillOrderInParts : public testing::TestWithParam<int> {};

TEST_P(FillOrderInParts, LeavesNothingBetweenPartsButTheInterface) {
  const auto plate = support::make_plate_system(20);
  const SparsityPattern pattern(plate.equations, plate.n_equations);

  const FillOrder order = fill_reducing_order(pattern, plate.group_of_equation, GetParam());

  const size_t n_parts = size_t{1} << GetParam();
  ASSERT_EQ(order.part_ends.size(), n_parts);
  std::vector<int> part_of(plate.n_equations, -1), found(plate.n_equations, 0);
  int begin = 0;
  for (size_t p = 0; p < n_parts; ++p) {
    EXPECT_GT(order.part_ends[p] - begin, 0.6 * plate.n_equations / static_cast<double>(n_parts));
    for (; begin < order.part_ends[p]; ++begin) part_of[order.order[begin]] = static_cast<int>(p);
  }
  EXPECT_LT(plate.n_equations - begin, 0.2 * plate.n_equations);
  for (const int equation : order.order) ++found[equation];
  EXPECT_EQ(found, std::vector<int>(plate.n_equations, 1));
  for (int column = 0; column < plate.n_equations; ++column)
    for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k) {
      const int a = part_of[column], b = part_of[pattern.rows()[k]];
      EXPECT_TRUE(a == b || a < 0 || b < 0) << column << " and " << pattern.rows()[k];
    }
  for (int a = 1; a < plate.n_equations; ++a)
    EXPECT_TRUE(plate.group_of_equation[a] != plate.group_of_equation[a - 1] || part_of[a] == part_of[a - 1]);
}

INSTANTIATE_TEST_SUITE_P(Halvings, FillOrderInParts, testing::Values(0, 1, 2));

TEST(FillOrder, RefusesAWrongNumberOfGroups) {
  const auto plate = support::make_plate_system(2);
  const SparsityPattern pattern(plate.equations, plate.n_equations);
  std::vector<int> groups = plate.group_of_equation;
  groups.pop_back();

  EXPECT_THROW(fill_reducing_order(pattern, groups), std::invalid_argument);
}

}  // namespace
}  // namespace halftool::solver
