#pragma once
#include <Eigen/Core>
#include <array>

#include "solver/material/log_strain.hpp"
#include "solver/material/section.hpp"

namespace halftool::solver {

/// C(z) as [C11 + C22, C11 - C22, 2 C12]/2 in powers of z: the coordinates of log_strain.hpp.
struct LayerMetric {
  Eigen::Vector3d constant, linear, quadratic;
  [[nodiscard]] Eigen::Vector3d at(double z) const { return constant + z * (linear + z * quadratic); }
};

/// The metric of the layers [m, u, v] of log_strain.hpp. @param inverse_metric  [A11, A22, A12]
LayerMetric layer_metric(const SectionStrain& strain, const Eigen::Vector3d& inverse_metric);

/// s33 at zeta: linear from -inner_pressure (tool face) to -outer_pressure (pad face).
inline double normal_stress_at(const SectionFrozen& frozen, double zeta) {
  return -(0.5 - zeta) * frozen.inner_pressure - (0.5 + zeta) * frozen.outer_pressure;
}

/// [a + b, a - b, c] of Voigt [a, b, c]. Its matrix T turns sums of [m, u, v] derivatives into Voigt ones,
/// since [m, u, v] = [1, 0, 0] + T (Green strain [11, 22, 2*12]).
inline Eigen::Vector3d sum_and_difference(const Eigen::Vector3d& voigt) {
  return {voigt[0] + voigt[1], voigt[0] - voigt[1], voigt[2]};
}

/// Sums over the layers of weight * z^j times stress (columns j = 0, 1, 2) and stiffness (j = 0 to 4), in [m,
/// u, v].
struct LayerSums {
  std::array<Eigen::Vector3d, 3> stress{Eigen::Vector3d::Zero(), Eigen::Vector3d::Zero(),
                                        Eigen::Vector3d::Zero()};
  std::array<std::array<double, 6>, 5> stiffness{};  // 00, 01, 02, 11, 12, 22

  template <class Point>
  void add(double weight, double z, const LogStrain& log, const Point& point) {
    const Eigen::Matrix3d J = log.gradient();
    const Eigen::Vector3d n = J.transpose() * point.normal;
    const Eigen::Matrix3d h = log.contracted_hessian(point.stress);
    std::array<double, 6> k{};
    for (int row = 0, entry = 0; row < 3; ++row)
      for (int column = row; column < 3; ++column, ++entry)
        k[entry] = point.stiffness(J, row, column) - n[row] * n[column] + h(row, column);
    const Eigen::Vector3d s = J.transpose() * point.stress;
    double factor = weight;
    for (std::size_t power = 0; power < 5; ++power, factor *= z) {
      if (power < 3) stress[power] += factor * s;
      for (std::size_t entry = 0; entry < 6; ++entry) stiffness[power][entry] += factor * k[entry];
    }
  }

  [[nodiscard]] Eigen::Vector3d voigt_stress_sum(std::size_t power) const {
    return sum_and_difference(stress[power]);
  }

  /// T^T k T of the symmetric sum, T of sum_and_difference.
  [[nodiscard]] Eigen::Matrix3d voigt_stiffness_sum(std::size_t power) const {
    const auto& k = stiffness[power];
    const double sum = k[0] + k[3];
    Eigen::Matrix3d d;
    d << sum + 2 * k[1], k[0] - k[3], k[2] + k[4],  //
        k[0] - k[3], sum - 2 * k[1], k[2] - k[4],   //
        k[2] + k[4], k[2] - k[4], k[5];
    return d;
  }
};

/// Resultants and tangent from the sums.
void assemble(const LayerSums& sums, const Eigen::Vector3d& curvature, const Eigen::Vector3d& A,
              SectionResponse& response);

/// What the layers of a section are asked for.
struct LayerTask {
  const PlaneModuli& moduli;
  const Eigen::VectorXd& zeta;
  const Eigen::VectorXd& weight;
  const SectionStrain& strain;
  const SectionFrozen& frozen;
  const PointState* committed;
};

/// All layers under one yield condition and one hardening law, known at compile time.
/// @param yield  PlaneModuli (von Mises), HillPlane or YldPlane
template <class Yield, class Curve>
bool respond_with(const Yield& yield, const Curve& curve, const LayerTask& task, PointState* trial,
                  SectionResponse& response) {
  const LayerMetric metric = layer_metric(task.strain, task.frozen.inverse_metric);
  LayerSums sums;
  LogStrain log;
  using Point = typename PointOf<Yield>::type;
  Point point;
  response.thickness_strain = response.elastic_energy = response.plastic_work = 0;
  const double first = flow_stress(curve, 0).stress;
  for (Eigen::Index i = 0; i < task.zeta.size(); ++i) {
    const double z = task.zeta[i] * task.frozen.thickness;
    const double s33 = normal_stress_at(task.frozen, task.zeta[i]);
    if (!log_strain(metric.at(z), log)) return false;
    const Eigen::Vector3d total = log.value();
    const Eigen::Vector3d plastic = strain_coordinates(task.committed[i].plastic_strain);
    const double committed_equivalent = task.committed[i].equivalent_plastic_strain;
    if (task.frozen.elastic)
      point = elastic_stress<Point>(task.moduli, total, plastic, committed_equivalent, s33);
    else if (!update_stress(yield, curve, total, plastic, committed_equivalent, s33, point))
      return false;
    trial[i].plastic_strain = voigt_strain(point.plastic_strain);
    trial[i].equivalent_plastic_strain = point.equivalent_plastic_strain;

    const double weight = task.weight[i] * task.frozen.initial_thickness;
    sums.add(weight, z, log, point);
    response.thickness_strain += task.weight[i] * thickness_strain(task.moduli, point, s33);
    response.elastic_energy += weight * elastic_energy(task.moduli, point, total, s33);
    if (!task.frozen.elastic)
      response.plastic_work +=
          weight * plastic_work(curve, point.equivalent_plastic_strain, point.flow_stress, first);
  }
  assemble(sums, task.strain.curvature, task.frozen.inverse_metric, response);
  return true;
}

// One translation unit a yield condition: with all of them in one the compiler stops inlining, and every
// section costs a tenth more.
bool respond_layers(const PlaneModuli& mises, const FlowCurve& curve, const LayerTask& task,
                    PointState* trial, SectionResponse& response);
bool respond_layers(const HillPlane& hill, const FlowCurve& curve, const LayerTask& task, PointState* trial,
                    SectionResponse& response);
bool respond_layers(const YldPlane& yld, const FlowCurve& curve, const LayerTask& task, PointState* trial,
                    SectionResponse& response);

}  // namespace halftool::solver
