#pragma once
#include <Eigen/Core>

namespace halftool::solver {

/// Points in (-1/2, 1/2), ascending, and weights (sum 1) of a quadrature rule through the thickness.
struct ThicknessRule {
  Eigen::VectorXd zeta;
  Eigen::VectorXd weight;
};

/// Gauss-Legendre rule of n points, exact for polynomials of degree 2n - 1, to rounding.
ThicknessRule gauss_legendre(int n);

}  // namespace halftool::solver
