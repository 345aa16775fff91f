#include "solver/material/section.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/material/gauss_legendre.hpp"
#include "solver/material/log_strain.hpp"

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

/// C(z) as [C11 + C22, C11 - C22, 2 C12]/2 in powers of z: the coordinates of log_strain.hpp.
struct LayerMetric {
  Vector3d constant, linear, quadratic;
  [[nodiscard]] Vector3d at(double z) const { return constant + z * (linear + z * quadratic); }
};

/// [a + b, a - b, c] of Voigt [a, b, c]. Its matrix T turns sums of [m, u, v] derivatives into Voigt ones,
/// since [m, u, v] = [1, 0, 0] + T (Green strain [11, 22, 2*12]).
Vector3d sum_and_difference(const Vector3d& voigt) {
  return {voigt[0] + voigt[1], voigt[0] - voigt[1], voigt[2]};
}

/// k A k as [11, 22, 2*12]. @param k  [k11, k22, 2 k12]  @param A  [A11, A22, A12]
Vector3d curvature_square(const Vector3d& k, const Vector3d& A) {
  const double g2 = 0.25 * k[2] * k[2];
  return {A[0] * k[0] * k[0] + A[2] * k[0] * k[2] + A[1] * g2,
          A[0] * g2 + A[2] * k[2] * k[1] + A[1] * k[1] * k[1],
          A[0] * k[0] * k[2] + 2 * A[2] * (k[0] * k[1] + g2) + A[1] * k[2] * k[1]};
}

/// d curvature_square(i) / d k(j).
Matrix3d curvature_square_gradient(const Vector3d& k, const Vector3d& A) {
  Matrix3d g;
  g << 2 * A[0] * k[0] + A[2] * k[2], 0, A[2] * k[0] + 0.5 * A[1] * k[2],  //
      0, A[2] * k[2] + 2 * A[1] * k[1], 0.5 * A[0] * k[2] + A[2] * k[1],   //
      A[0] * k[2] + 2 * A[2] * k[1], 2 * A[2] * k[0] + A[1] * k[2], A[0] * k[0] + A[2] * k[2] + A[1] * k[1];
  return g;
}

/// Sum of stress(i) times the Hessian of curvature_square(i). @param stress  [11, 22, 12]
Matrix3d curvature_square_hessian(const Vector3d& stress, const Vector3d& A) {
  const double h12 = 2 * stress[2] * A[2];
  const double h13 = stress[0] * A[2] + stress[2] * A[0];
  const double h23 = stress[1] * A[2] + stress[2] * A[1];
  Matrix3d h;
  h << 2 * stress[0] * A[0], h12, h13,  //
      h12, 2 * stress[1] * A[1], h23,   //
      h13, h23, 0.5 * (stress[0] * A[1] + stress[1] * A[0]) + stress[2] * A[2];
  return h;
}

LayerMetric layer_metric(const SectionStrain& strain, const Vector3d& inverse_metric) {
  return {Vector3d(1, 0, 0) + sum_and_difference(strain.membrane), -sum_and_difference(strain.curvature),
          0.5 * sum_and_difference(curvature_square(strain.curvature, inverse_metric))};
}

/// s33 at zeta: linear from -inner_pressure (tool face) to -outer_pressure (pad face).
double normal_stress_at(const SectionFrozen& frozen, double zeta) {
  return -(0.5 - zeta) * frozen.inner_pressure - (0.5 + zeta) * frozen.outer_pressure;
}

/// Sums over the layers of weight * z^j times stress (columns j = 0, 1, 2) and stiffness (j = 0 to 4), in [m,
/// u, v].
struct LayerSums {
  std::array<Vector3d, 3> stress{Vector3d::Zero(), Vector3d::Zero(), Vector3d::Zero()};
  std::array<std::array<double, 6>, 5> stiffness{};  // 00, 01, 02, 11, 12, 22

  template <class Point>
  void add(double weight, double z, const LogStrain& log, const Point& point) {
    const Matrix3d J = log.gradient();
    const Vector3d n = J.transpose() * point.normal;
    const Matrix3d h = log.contracted_hessian(point.stress);
    std::array<double, 6> k{};
    for (int row = 0, entry = 0; row < 3; ++row)
      for (int column = row; column < 3; ++column, ++entry)
        k[entry] = point.stiffness(J, row, column) - n[row] * n[column] + h(row, column);
    const Vector3d s = J.transpose() * point.stress;
    double factor = weight;
    for (std::size_t power = 0; power < 5; ++power, factor *= z) {
      if (power < 3) stress[power] += factor * s;
      for (std::size_t entry = 0; entry < 6; ++entry) stiffness[power][entry] += factor * k[entry];
    }
  }

  [[nodiscard]] Vector3d voigt_stress_sum(std::size_t power) const {
    return sum_and_difference(stress[power]);
  }

  /// T^T k T of the symmetric sum, T of sum_and_difference.
  [[nodiscard]] Matrix3d voigt_stiffness_sum(std::size_t power) const {
    const auto& k = stiffness[power];
    const double sum = k[0] + k[3];
    Matrix3d d;
    d << sum + 2 * k[1], k[0] - k[3], k[2] + k[4],  //
        k[0] - k[3], sum - 2 * k[1], k[2] - k[4],   //
        k[2] + k[4], k[2] - k[4], k[5];
    return d;
  }
};

/// Resultants and tangent from the sums: with G(z) = E - z k + z^2/2 k A k, d G/d k = -z I + z^2/2 R.
void assemble(const LayerSums& sums, const Vector3d& curvature, const Vector3d& A,
              SectionResponse& response) {
  const Matrix3d R = curvature_square_gradient(curvature, A);
  const Vector3d second = sums.voigt_stress_sum(2);
  response.resultant.head<3>() = sums.voigt_stress_sum(0);
  response.resultant.tail<3>() = -sums.voigt_stress_sum(1) + 0.5 * R.transpose() * second;

  const Matrix3d D2 = sums.voigt_stiffness_sum(2);
  const Matrix3d D3R = sums.voigt_stiffness_sum(3) * R;
  const Matrix3d coupling = -sums.voigt_stiffness_sum(1) + 0.5 * D2 * R;
  response.tangent.topLeftCorner<3, 3>() = sums.voigt_stiffness_sum(0);
  response.tangent.topRightCorner<3, 3>() = coupling;
  response.tangent.bottomLeftCorner<3, 3>() = coupling.transpose();
  response.tangent.bottomRightCorner<3, 3>() = D2 - 0.5 * (D3R + D3R.transpose()) +
                                               0.25 * R.transpose() * sums.voigt_stiffness_sum(4) * R +
                                               0.5 * curvature_square_hessian(second, A);
}

/// All layers under one yield condition and one hardening law, known at compile time.
/// @param yield  PlaneModuli with PointStress: von Mises; HillPlane with HillPointStress: Hill
template <class Point, class Yield, class Curve>
bool respond_with(const Yield& yield, const Curve& curve, const PlaneModuli& moduli,
                  const Eigen::VectorXd& zetas, const Eigen::VectorXd& weights, const SectionStrain& strain,
                  const SectionFrozen& frozen, const PointState* committed, PointState* trial,
                  SectionResponse& response) {
  const LayerMetric metric = layer_metric(strain, frozen.inverse_metric);
  LayerSums sums;
  LogStrain log;
  Point point;
  response.thickness_strain = response.elastic_energy = response.plastic_work = 0;
  for (Eigen::Index i = 0; i < zetas.size(); ++i) {
    const double z = zetas[i] * frozen.thickness;
    const double s33 = normal_stress_at(frozen, zetas[i]);
    if (!log_strain(metric.at(z), log)) return false;
    const Vector3d total = log.value();
    const Vector3d plastic = strain_coordinates(committed[i].plastic_strain);
    const double committed_equivalent = committed[i].equivalent_plastic_strain;
    if (frozen.elastic)
      point = elastic_stress<Point>(moduli, total, plastic, committed_equivalent, s33);
    else if (!update_stress(yield, curve, total, plastic, committed_equivalent, s33, point))
      return false;
    trial[i].plastic_strain = voigt_strain(point.plastic_strain);
    trial[i].equivalent_plastic_strain = point.equivalent_plastic_strain;

    const double weight = weights[i] * frozen.initial_thickness;
    sums.add(weight, z, log, point);
    response.thickness_strain += weights[i] * thickness_strain(moduli, point, s33);
    response.elastic_energy += weight * elastic_energy(moduli, point, total, s33);
    if (!frozen.elastic)
      response.plastic_work +=
          weight * plastic_work(curve, point.equivalent_plastic_strain, point.flow_stress);
  }
  assemble(sums, strain.curvature, frozen.inverse_metric, response);
  return true;
}

void require(bool holds, const std::string& what, double value) {
  if (!holds) throw std::invalid_argument("Section: " + what + ", found " + std::to_string(value));
}
void check(const SwiftHardening& swift) {
  require(swift.strength > 0, "Swift strength K must be positive", swift.strength);
  require(swift.pre_strain > 0, "Swift pre-strain eps0 must be positive", swift.pre_strain);
  require(swift.exponent >= 0 && swift.exponent < 1, "Swift exponent n must be in [0, 1)", swift.exponent);
}
void check(const VoceHardening& voce) {
  require(voce.initial > 0, "Voce initial stress must be positive", voce.initial);
  require(voce.saturation >= voce.initial, "Voce saturation must not be below the initial stress",
          voce.saturation);
  require(voce.rate >= 0, "Voce rate must not be negative", voce.rate);
}
void check(const RValues& r) {
  for (const double value : {r.r0, r.r45, r.r90})
    require(value > 0 && std::isfinite(value), "r-values must be positive", value);
}

}  // namespace

Eigen::Vector3d layer_strain(const SectionStrain& strain, const SectionFrozen& frozen, double z) {
  LogStrain log;
  require(log_strain(layer_metric(strain, frozen.inverse_metric).at(z), log),
          "metric must be positive definite at height", z);
  return voigt_strain(log.value());
}

Section::Section(const SheetMaterial& material, int n_points)
    : material_(material), moduli_(material.youngs_modulus, material.poissons_ratio) {
  require(n_points >= 1 && n_points <= 99, "points through the thickness must be 1 to 99", n_points);
  require(material.youngs_modulus > 0, "Young's modulus must be positive", material.youngs_modulus);
  require(material.poissons_ratio >= 0 && material.poissons_ratio < 0.5,
          "Poisson's ratio must be in [0, 0.5)", material.poissons_ratio);
  std::visit([](const auto& curve) { check(curve); }, material.hardening);
  if (material.r_values) {
    check(*material.r_values);
    hill_.emplace(moduli_, HillConstants(*material.r_values));
  }
  const ThicknessRule rule = gauss_legendre(n_points);
  zeta_ = rule.zeta;
  weight_ = rule.weight;
}

bool Section::respond(const SectionStrain& strain, const SectionFrozen& frozen, const PointState* committed,
                      PointState* trial, SectionResponse& response) const {
  return std::visit(
      [&](const auto& curve) {
        return hill_ ? respond_with<HillPointStress>(*hill_, curve, moduli_, zeta_, weight_, strain, frozen,
                                                     committed, trial, response)
                     : respond_with<PointStress>(moduli_, curve, moduli_, zeta_, weight_, strain, frozen,
                                                 committed, trial, response);
      },
      material_.hardening);
}

SectionPoint Section::sample(const SectionStrain& strain, const SectionFrozen& frozen,
                             const PointState* accepted, double at_zeta) const {
  const auto log_strain_at = [&](double zeta) {
    return strain_coordinates(layer_strain(strain, frozen, zeta * frozen.thickness));
  };
  const auto stress_at = [&](double zeta, const Vector3d& plastic_strain) {
    return elastic_stress(moduli_, log_strain_at(zeta), plastic_strain, 0, normal_stress_at(frozen, zeta))
        .stress;
  };

  // The layers on both sides of at_zeta, or the two nearest to the face.
  Eigen::Index below = 0;
  while (below + 2 < zeta_.size() && zeta_[below + 1] <= at_zeta) ++below;
  const Eigen::Index above = std::min(below + 1, zeta_.size() - 1);
  const double share = above == below ? 0 : (at_zeta - zeta_[below]) / (zeta_[above] - zeta_[below]);
  const PointState& low = accepted[below];
  const PointState& high = accepted[above];

  SectionPoint point;
  point.strain = layer_strain(strain, frozen, at_zeta * frozen.thickness);
  point.normal_stress = normal_stress_at(frozen, at_zeta);
  point.equivalent_plastic_strain =
      std::max(0.0, (1 - share) * low.equivalent_plastic_strain + share * high.equivalent_plastic_strain);
  const bool virgin = low.equivalent_plastic_strain == 0 && high.equivalent_plastic_strain == 0;
  Vector3d stress =
      virgin ? stress_at(at_zeta, Vector3d::Zero())
             : Vector3d((1 - share) * stress_at(zeta_[below], strain_coordinates(low.plastic_strain)) +
                        share * stress_at(zeta_[above], strain_coordinates(high.plastic_strain)));
  const double equivalent =
      hill_ ? hill_->equivalent_stress(stress, point.normal_stress) : von_mises(stress, point.normal_stress);
  const double limit = flow_stress(material_.hardening, point.equivalent_plastic_strain).stress;
  if (!frozen.elastic && equivalent > limit) {
    const Vector3d pressure(2 * point.normal_stress, 0, 0);
    stress = pressure + (stress - pressure) * (limit / equivalent);
  }
  point.von_mises = von_mises(stress, point.normal_stress);
  point.stress = voigt_stress(stress);
  return point;
}

}  // namespace halftool::solver
