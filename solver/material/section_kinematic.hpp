#pragma once
#include <algorithm>
#include <variant>

#include "solver/material/kinematic_metal.hpp"
#include "solver/material/kinematic_return.hpp"
#include "solver/material/section_layers.hpp"

namespace halftool::solver {

/// Plastic strain that is left when the stress is taken off elastically.
inline Eigen::Vector3d strain_left(const PlaneModuli& moduli, const Eigen::Vector3d& strain,
                                   const Eigen::Vector3d& stress, double normal_stress) {
  return strain - Eigen::Vector3d((stress[0] - moduli.normal * normal_stress) / moduli.mean,
                                  stress[1] / moduli.shear, stress[2] / moduli.shear);
}

/// One layer from its committed state; writes its plastic strains, its history and the moduli at its end.
template <class Yield, class Law>
bool respond_layer(const Yield& yield, const Law& law, const ModulusFall& fall, bool elastic,
                   const Eigen::Vector3d& strain, double normal_stress, const PointState& committed,
                   const double* history, double* history_end, MovingPointStress& point,
                   PlaneModuli& moduli_end) {
  const Eigen::Vector3d plastic = strain_coordinates(committed.plastic_strain);
  const double before = committed.equivalent_plastic_strain;
  const double share = fall.share(before);
  moduli_end = fallen(yield.moduli(), share);
  if (elastic) {
    point = elastic_stress<MovingPointStress>(moduli_end, strain, plastic, before, normal_stress);
    std::copy(history, history + 1 + law.n_values(), history_end);
    return true;
  }
  double work = 0;
  if (!update_stress(yield, law, moduli_end, strain, plastic, before, normal_stress, history + 1,
                     history_end + 1, point, work))
    return false;
  history_end[0] = history[0] + work;
  const double share_end = fall.share(point.equivalent_plastic_strain);
  if (share_end == share) return true;
  moduli_end = fallen(yield.moduli(), share_end);
  point.plastic_strain = strain_left(moduli_end, strain, point.stress, normal_stress);
  // The fall turns work of plastic flow into energy that comes back.
  history_end[0] -= (1 - share_end / share) * elastic_energy(moduli_end, point, strain, normal_stress);
  return true;
}

/// All layers of a section, as respond_with of section_layers.hpp.
template <class Yield, class Law>
bool respond_moving(const Yield& yield, const Law& law, const ModulusFall& fall, const LayerTask& task,
                    const SectionHistory& history, PointState* trial, SectionResponse& response) {
  const LayerMetric metric = layer_metric(task.strain, task.frozen.inverse_metric);
  const int width = 1 + law.n_values();
  LayerSums sums;
  LogStrain log;
  MovingPointStress point;
  PlaneModuli moduli;
  response.thickness_strain = response.elastic_energy = response.plastic_work = 0;
  for (Eigen::Index i = 0; i < task.zeta.size(); ++i) {
    const double z = task.zeta[i] * task.frozen.thickness;
    const double s33 = normal_stress_at(task.frozen, task.zeta[i]);
    if (!log_strain(metric.at(z), log)) return false;
    const Eigen::Vector3d total = log.value();
    double* history_end = history.trial + i * width;
    if (!respond_layer(yield, law, fall, task.frozen.elastic, total, s33, task.committed[i],
                       history.committed + i * width, history_end, point, moduli))
      return false;
    trial[i].plastic_strain = voigt_strain(point.plastic_strain);
    trial[i].equivalent_plastic_strain = point.equivalent_plastic_strain;

    const double weight = task.weight[i] * task.frozen.initial_thickness;
    sums.add(weight, z, log, point);
    response.thickness_strain += task.weight[i] * thickness_strain(moduli, point, s33);
    response.elastic_energy += weight * elastic_energy(moduli, point, total, s33);
    response.plastic_work += weight * history_end[0];
  }
  assemble(sums, task.strain.curvature, task.frozen.inverse_metric, response);
  return true;
}

// One translation unit a kind of yield condition, as in section_layers.hpp.
bool respond_layers(const QuadraticYield& yield, const KinematicMetal& metal, const FlowCurve& curve,
                    const LayerTask& task, const SectionHistory& history, PointState* trial,
                    SectionResponse& response);
bool respond_layers(const MovingYld2000& yield, const KinematicMetal& metal, const FlowCurve& curve,
                    const LayerTask& task, const SectionHistory& history, PointState* trial,
                    SectionResponse& response);

}  // namespace halftool::solver
