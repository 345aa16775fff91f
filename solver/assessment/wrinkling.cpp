#include "solver/assessment/wrinkling.hpp"

#include <cmath>
#include <numbers>

#include "solver/assessment/edge_waves.hpp"
#include "solver/material/yld2000_fit.hpp"

namespace halftool::solver {
namespace {

double mean_of(const VonMises& /*all alike*/) {
  return 1;
}
double mean_of(const RValues& r) {
  return (r.r0 + 2 * r.r45 + r.r90) / 4;
}
double mean_of(const Yld2000& yield) {
  constexpr double eighth = std::numbers::pi / 4;
  return (tension_test(yield, 0).r_value + 2 * tension_test(yield, eighth).r_value +
          tension_test(yield, 2 * eighth).r_value) /
         4;
}
double mean_of(const Yld2000Tests& tests) {
  return mean_of(fit_yld2000(tests).yield);
}

}  // namespace

double mean_r_value(const YieldCondition& yield) {
  return std::visit([](const auto& of) { return mean_of(of); }, yield);
}

double compressed_share(double major, double minor, double mean_r) {
  const double s1 = (1 + mean_r) * major + mean_r * minor;
  const double s2 = mean_r * major + (1 + mean_r) * minor;
  if (s2 >= 0) return 0;
  return s1 <= 0 ? 1 : -s2 / (s1 - s2);
}

Eigen::VectorXd wrinkling_tendency(const SheetFields& fields, double mean_r) {
  Eigen::VectorXd tendency = Eigen::VectorXd::Zero(fields.strain_mid.rows());
  for (Eigen::Index t = 0; t < tendency.size(); ++t) {
    const double major = fields.strain_mid(t, 0), minor = fields.strain_mid(t, 1);
    if (-minor - mean_r / (1 + mean_r) * major >= kLeastCompression)
      tendency(t) = compressed_share(major, minor, mean_r);
  }
  return tendency;
}

bool is_loose(const SheetFields& fields, Eigen::Index triangle) {
  const double gap = fields.gap(triangle);
  return std::isnan(gap) || gap > kLeastWave * fields.thickness(triangle);
}

}  // namespace halftool::solver
