#pragma once
#include <Eigen/Core>
#include <algorithm>

namespace halftool::test {

/// Jacobian of a vector function by the four-point central difference, error O(step^4).
/// @param function  takes Eigen::VectorXd (n), returns Eigen::VectorXd (m)
/// @param step      per unknown (n)
template <class Function>
Eigen::MatrixXd difference_jacobian(const Function& function, const Eigen::VectorXd& at,
                                    const Eigen::VectorXd& step) {
  Eigen::MatrixXd jacobian;
  for (Eigen::Index j = 0; j < at.size(); ++j) {
    const auto shifted = [&](double times) -> Eigen::VectorXd {
      Eigen::VectorXd x = at;
      x[j] += times * step[j];
      return function(x);
    };
    const Eigen::VectorXd column =
        (8 * (shifted(1) - shifted(-1)) - (shifted(2) - shifted(-2))) / (12 * step[j]);
    if (j == 0) jacobian.resize(column.size(), at.size());
    jacobian.col(j) = column;
  }
  return jacobian;
}

/// Largest entry of |a - b| over the largest of |b|.
inline double relative_difference(const Eigen::MatrixXd& a, const Eigen::MatrixXd& b) {
  return (a - b).cwiseAbs().maxCoeff() / std::max(b.cwiseAbs().maxCoeff(), 1e-300);
}

}  // namespace halftool::test
