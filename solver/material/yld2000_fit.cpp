#include "solver/material/yld2000_fit.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>
#include <unsupported/Eigen/NonLinearOptimization>
#include <unsupported/Eigen/NumericalDiff>

namespace halftool::solver {
namespace {

using Eigen::VectorXd;

std::array<YieldTest, 4> all_tests(const Yld2000& yield) {
  constexpr double degree = std::numbers::pi / 180;
  return {tension_test(yield, 0), tension_test(yield, 45 * degree), tension_test(yield, 90 * degree),
          equibiaxial_test(yield)};
}

double share(double r) {
  return r / (1 + r);
}

/// Errors of the eight tests as a function of the logarithms of the coefficients, which keeps these positive.
struct TestErrors {
  using Scalar = double;
  using InputType = VectorXd;
  using ValueType = VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  const Yld2000Tests& tests;

  [[nodiscard]] static int inputs() { return 8; }
  [[nodiscard]] static int values() { return 8; }

  [[nodiscard]] Yld2000 yield(const VectorXd& logarithms) const {
    Yld2000 result;
    result.exponent = tests.exponent;
    for (int i = 0; i < 8; ++i) result.alpha[i] = std::exp(logarithms[i]);
    return result;
  }
  int operator()(const VectorXd& logarithms, VectorXd& errors) const {
    const auto returned = all_tests(yield(logarithms));
    for (int i = 0; i < 4; ++i) {
      errors[i] = returned[i].ratio / tests.yield_ratios[i] - 1;
      errors[i + 4] = share(returned[i].r_value) - share(tests.r_values[i]);
    }
    return 0;
  }
};

}  // namespace

Yld2000Fit fit_yld2000(const Yld2000Tests& tests) {
  using Difference = Eigen::NumericalDiff<TestErrors, Eigen::Central>;
  Difference errors(TestErrors{tests});
  Eigen::LevenbergMarquardt<Difference> search(errors);
  search.parameters.ftol = search.parameters.xtol = 1e-15;
  search.parameters.maxfev = 20000;
  VectorXd logarithms = VectorXd::Zero(8);
  search.minimize(logarithms);
  Yld2000Fit fit;
  fit.yield = errors.yield(logarithms);
  fit.returned = all_tests(fit.yield);
  VectorXd left(8);
  errors(logarithms, left);
  Eigen::Index at = 0;
  fit.largest_miss = left.cwiseAbs().maxCoeff(&at);
  fit.worst = static_cast<std::size_t>(at % 4);
  return fit;
}

}  // namespace halftool::solver
