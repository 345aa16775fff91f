#pragma once
#include <Eigen/Core>
#include <limits>
#include <memory>
#include <vector>

#include "solver/assembly/factor.hpp"
#include "solver/assembly/lower_columns.hpp"

namespace halftool::solver {

/// A pivot this small a part of its diagonal entry has lost all digits to cancellation: about a hundred
/// rounding errors (common practice, no source). A strip a thousand elements long still has 1e-10.
constexpr double kSingularPivot = 1e2 * std::numeric_limits<double>::epsilon();

inline FactorOutcome singular() {
  return {.singular = true, .message = "singular to working accuracy"};
}
inline FactorOutcome not_positive_definite() {
  return {.message = "not positive definite"};
}

/// Cholesky factors L L^T of one sparse matrix on one thread (CHOLMOD; Chen, Davis, Hager and Rajamanickam
/// 2008). Objects may work on threads of their own at the same time.
class SupernodalFactor {
 public:
  /// @param order  (n) row eliminated first, second, ...
  SupernodalFactor(const LowerColumns& pattern, std::vector<int> order);
  ~SupernodalFactor();
  SupernodalFactor(SupernodalFactor&&) noexcept;
  SupernodalFactor& operator=(SupernodalFactor&&) noexcept;

  /// @param values  those that the pattern selects from
  FactorOutcome factorise(const Eigen::Ref<const Eigen::VectorXd>& values);

  /// (n) rows of the matrix in the order in which they were eliminated, an equivalent of the order asked for.
  [[nodiscard]] const std::vector<int>& eliminated() const;

  /// @param rhs  (n, any) rows of the matrix
  /// @return (n, any) L^-1 of it, in the order of elimination
  Eigen::MatrixXd forward(const Eigen::Ref<const Eigen::MatrixXd>& rhs);
  /// @param rhs  (n, any) in the order of elimination
  /// @return (n, any) L^-T of it, rows of the matrix
  Eigen::MatrixXd backward(const Eigen::Ref<const Eigen::MatrixXd>& rhs);

  /// Writes what L holds between rows that are eliminated last: entry of row i and column j to
  /// `upper(place[i], place[j])`.
  /// @param place  (n) place of each row in `upper`, falling in the order of elimination; -1: not wanted
  void last_block(const std::vector<int>& place, Eigen::MatrixXd& upper) const;

 private:
  struct Storage;
  std::unique_ptr<Storage> storage_;
};

}  // namespace halftool::solver
