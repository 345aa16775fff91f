#pragma once
#include <Eigen/Core>
#include <cmath>

namespace halftool::solver {

/// E = 1/2 ln C of a plane metric and its derivatives, in the coordinates of plane_coordinates.hpp.
///
/// With C = [m, u, v] and s = u^2 + v^2 (the squared half difference of the eigenvalues), E = [p, q u, q v],
/// where p = 1/4 ln(m^2 - s) and q = atanh(sqrt(s)/m) / (2 sqrt(s)) are smooth functions of m and s: no
/// eigenvectors, and nothing singular where the eigenvalues meet. Derived here from the spectral form used by
/// Miehe, Apel and Lambrecht (2002).
struct LogStrain {
  double mean = 0, factor = 0;  ///< p, q
  double u = 0, v = 0;
  double p_m = 0, p_s = 0, p_mm = 0, p_ms = 0, p_ss = 0;  ///< derivatives of p with respect to m and s
  double q_m = 0, q_s = 0, q_mm = 0, q_ms = 0, q_ss = 0;

  /// [(E11 + E22)/2, (E11 - E22)/2, E12]
  [[nodiscard]] Eigen::Vector3d value() const { return {mean, factor * u, factor * v}; }

  /// d value(i) / d [m, u, v](j)
  [[nodiscard]] Eigen::Matrix3d gradient() const {
    Eigen::Matrix3d g;
    g << p_m, 2 * u * p_s, 2 * v * p_s,                      //
        q_m * u, factor + 2 * u * u * q_s, 2 * u * v * q_s,  //
        q_m * v, 2 * u * v * q_s, factor + 2 * v * v * q_s;
    return g;
  }

  /// Sum of stress(i) times the Hessian of value(i) with respect to [m, u, v].
  [[nodiscard]] Eigen::Matrix3d contracted_hessian(const Eigen::Vector3d& stress) const {
    const double along = stress[1] * u + stress[2] * v;
    const double first = 2 * (stress[0] * p_s + along * q_s);
    const double second = 4 * (stress[0] * p_ss + along * q_ss);
    const double mixed = 2 * (stress[0] * p_ms + along * q_ms);
    Eigen::Matrix3d h;
    h(0, 0) = stress[0] * p_mm + along * q_mm;
    h(0, 1) = h(1, 0) = mixed * u + stress[1] * q_m;
    h(0, 2) = h(2, 0) = mixed * v + stress[2] * q_m;
    h(1, 1) = first + second * u * u + 4 * u * stress[1] * q_s;
    h(2, 2) = first + second * v * v + 4 * v * stress[2] * q_s;
    h(1, 2) = h(2, 1) = second * u * v + 2 * q_s * (v * stress[1] + u * stress[2]);
    return h;
  }
};

/// f(r) = atanh(sqrt r)/sqrt r for 0 <= r < 1 and its first two derivatives.
struct AtanhQuotient {
  double value, first, second;
};
inline AtanhQuotient atanh_quotient(double r) {
  const double pole = 1 / (1 - r);
  if (r < 0.03) {
    // Only f'' is summed (terms (j+2)(j+1)/(2j+5) r^j; what is left out is below 1e-14); f' and f follow from
    // it through f = 1/(1-r) - 2 r f' and its derivative, in the direction in which nothing cancels.
    double second = 132.0 / 25;
    for (const double c : {110.0 / 23, 90.0 / 21, 72.0 / 19, 56.0 / 17, 42.0 / 15, 30.0 / 13, 20.0 / 11,
                           12.0 / 9, 6.0 / 7, 2.0 / 5})
      second = second * r + c;
    const double first = (pole * pole - 2 * r * second) / 3;
    return {pole - 2 * r * first, first, second};
  }
  const double root = std::sqrt(r);
  const double value = std::atanh(root) / root;
  const double first = (pole - value) / (2 * r);
  return {value, first, (pole * pole - 3 * first) / (2 * r)};
}

/// @param metric  C as [(C11 + C22)/2, (C11 - C22)/2, C12]
/// @return false if C is not positive definite (out is then untouched)
inline bool log_strain(const Eigen::Vector3d& metric, LogStrain& out) {
  const double m = metric[0];
  const double u = metric[1];
  const double v = metric[2];
  const double s = u * u + v * v;
  const double determinant = m * m - s;
  if (!(m > 0) || !(determinant > 0)) return false;
  const double over_m = 1 / m;
  const double over_m2 = over_m * over_m;
  const double over_d = 1 / determinant;
  const AtanhQuotient f = atanh_quotient(s * over_m2);
  out.u = u;
  out.v = v;
  out.mean = 0.25 * std::log(determinant);
  out.factor = 0.5 * over_m * f.value;
  out.p_m = 0.5 * m * over_d;
  out.p_s = -0.25 * over_d;
  out.p_mm = over_d * (0.5 - m * m * over_d);
  out.p_ms = out.p_m * over_d;
  out.p_ss = out.p_s * over_d;
  out.q_m = -0.5 * over_d;
  out.q_s = 0.5 * over_m * over_m2 * f.first;
  out.q_mm = m * over_d * over_d;
  out.q_ms = out.q_m * over_d;
  out.q_ss = 0.5 * over_m * over_m2 * over_m2 * f.second;
  return true;
}

}  // namespace halftool::solver
