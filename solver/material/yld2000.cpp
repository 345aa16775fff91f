#include "solver/material/yld2000.hpp"

#include <cmath>

#include "solver/material/power_near_one.hpp"

namespace halftool::solver {

/// Invariants of the two transforms and their powers. "power" is |.|^(a - 2).
struct YldPlane::Parts {
  double difference1, shear1, square1, power1;  // of X': 11 - 22, 2*12, R'^2
  double sum, difference2, shear2, radius;      // of X'': S, 11 - 22, 2*12, R
  double plus, minus, power_plus, power_minus;  // 3 S/2 +- R/2

  Parts(const YldPlane& yld, const Eigen::Vector3d& y)
      : difference1(yld.first_ * y.head<2>()),
        shear1(yld.first_shear_ * y[2]),
        square1(difference1 * difference1 + shear1 * shear1),
        power1(yld.power(square1)),
        sum(yld.second_sum_ * y.head<2>()),
        difference2(yld.second_difference_ * y.head<2>()),
        shear2(yld.second_shear_ * y[2]),
        radius(std::sqrt(difference2 * difference2 + shear2 * shear2)),
        plus(1.5 * sum + 0.5 * radius),
        minus(1.5 * sum - 0.5 * radius),
        power_plus(yld.power(plus * plus)),
        power_minus(yld.power(minus * minus)) {}

  [[nodiscard]] double form() const {
    return power1 * square1 + power_plus * plus * plus + power_minus * minus * minus;
  }
};

YldPlane::YldPlane(const PlaneModuli& moduli, const Yld2000& yield)
    : moduli_(moduli), exponent_(yield.exponent), stretch_(std::sqrt(moduli.mean / moduli.shear)) {
  const auto& alpha = yield.alpha;
  const Eigen::RowVector2d s11(stretch_ / 6, 0.5);
  const Eigen::RowVector2d s22(stretch_ / 6, -0.5);
  first_ = alpha[0] * s11 - alpha[1] * s22;
  const Eigen::RowVector2d longer = 2 * alpha[4] * s11 + alpha[5] * s22;
  const Eigen::RowVector2d shorter = alpha[2] * s11 + 2 * alpha[3] * s22;
  second_sum_ = (longer + shorter) / 3;
  second_difference_ = longer - shorter;
  first_shear_ = alpha[6];
  second_shear_ = alpha[7];
  const double half = 0.5 * exponent_;
  if (half == std::floor(half)) whole_power_ = static_cast<int>(half) - 1;
}

/// |v|^(a - 2) of a square v^2.
double YldPlane::power(double square) const {
  if (whole_power_ < 0) return std::pow(square, 0.5 * exponent_ - 1);
  double product = 1;
  for (int i = 0; i < whole_power_; ++i) product *= square;
  return product;
}

bool YldPlane::exceeds(const Eigen::Vector3d& y, double limit) const {
  return !(Parts(*this, y / limit).form() <= 2);
}

double YldPlane::equivalent_stress(const Eigen::Vector3d& stress, double normal_stress) const {
  const Eigen::Vector3d y((stress[0] - 2 * normal_stress) / stretch_, stress[1], stress[2]);
  const double scale = y.norm();
  return scale > 0 ? scale * std::pow(0.5 * Parts(*this, y / scale).form(), 1 / exponent_) : 0;
}

/// d(form)/dR over a R/2 of the second transform: the divided difference of v |v|^(a - 2) between the two
/// arguments, by Simpson's rule on its derivative where the arguments are too near for a quotient.
double YldPlane::turn_stiffness(const Parts& p) const {
  constexpr double near = 1e-3;  // of the larger argument; the rule errs by its fourth power
  if (p.radius > near * std::abs(p.sum)) return (p.power_plus * p.plus - p.power_minus * p.minus) / p.radius;
  const double middle = power(2.25 * p.sum * p.sum);
  return (exponent_ - 1) * (p.power_plus + 4 * middle + p.power_minus) / 6;
}

EquivalentStress YldPlane::equivalent(const Eigen::Vector3d& y, double scale) const {
  const Parts p(*this, y / scale);
  const double a = exponent_;
  // Derivatives of the form, over a, with respect to what the transforms give.
  const double along = p.square1 > 0 ? (a - 2) * p.power1 / p.square1 : 0;
  const double first_dd = p.power1 + along * p.difference1 * p.difference1;
  const double first_tt = p.power1 + along * p.shear1 * p.shear1;
  const double first_dt = along * p.difference1 * p.shear1;
  const double cosine = p.radius > 0 ? p.difference2 / p.radius : 1;
  const double sine = p.radius > 0 ? p.shear2 / p.radius : 0;
  const double by_sum = 1.5 * (p.power_plus * p.plus + p.power_minus * p.minus);
  const double by_radius = 0.5 * (p.power_plus * p.plus - p.power_minus * p.minus);
  const double ss = 2.25 * (a - 1) * (p.power_plus + p.power_minus);
  const double sr = 0.75 * (a - 1) * (p.power_plus - p.power_minus);
  const double rr = 0.25 * (a - 1) * (p.power_plus + p.power_minus);
  const double turn = 0.5 * turn_stiffness(p);
  const double second_dd = rr * cosine * cosine + turn * sine * sine;
  const double second_tt = rr * sine * sine + turn * cosine * cosine;
  const double second_dt = (rr - turn) * cosine * sine;

  EquivalentStress result;
  Eigen::Vector3d slope;
  slope << p.power1 * p.difference1 * first_.transpose() + by_sum * second_sum_.transpose() +
               by_radius * cosine * second_difference_.transpose(),
      p.power1 * p.shear1 * first_shear_ + by_radius * sine * second_shear_;
  Eigen::Matrix3d curvature;
  curvature.topLeftCorner<2, 2>() =
      first_dd * first_.transpose() * first_ + ss * second_sum_.transpose() * second_sum_ +
      sr * cosine *
          (second_sum_.transpose() * second_difference_ + second_difference_.transpose() * second_sum_) +
      second_dd * second_difference_.transpose() * second_difference_;
  curvature.topRightCorner<2, 1>() = first_dt * first_shear_ * first_.transpose() +
                                     sr * sine * second_shear_ * second_sum_.transpose() +
                                     second_dt * second_shear_ * second_difference_.transpose();
  curvature.bottomLeftCorner<1, 2>() = curvature.topRightCorner<2, 1>().transpose();
  curvature(2, 2) = first_tt * first_shear_ * first_shear_ + second_tt * second_shear_ * second_shear_;

  const double form = p.form();
  const double off = 0.5 * form - 1;  // small near the answer
  const double value = is_near_one(off) ? 1 + power_near_one(off, 1 / a) : std::pow(0.5 * form, 1 / a);
  const double factor = value / form;
  result.value = scale * value;
  result.gradient = factor * slope;
  result.hessian =
      (factor * curvature - ((a - 1) / value) * result.gradient * result.gradient.transpose()) / scale;
  return result;
}

}  // namespace halftool::solver
