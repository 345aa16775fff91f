#pragma once
#include <variant>

#include "solver/material/backstress.hpp"
#include "solver/material/moving_yield.hpp"
#include "solver/material/yoshida_uemori.hpp"

namespace halftool::solver {

/// A metal whose points remember more than plastic strain: its yield surface moves or its modulus falls. At
/// each point: work of plastic flow per volume [MPa], then the state of the law.
struct KinematicMetal {
  std::variant<QuadraticYield, MovingYld2000> yield;
  std::variant<BackstressTerms, YoshidaUemoriLaw>
      law;  ///< terms over the sheet's flow curve, or two surfaces
  ModulusFall fall;

  [[nodiscard]] int n_history() const;
  /// Centre of the yield surface. @param history  of one point
  [[nodiscard]] Eigen::Vector3d centre(const double* history) const;
  [[nodiscard]] double yield_size(const FlowCurve& curve, double equivalent_plastic_strain) const;
};

/// What holds while the point is elastic from a plastic strain on. The modulus is that of the plastic strain
/// at the start of the increment: the tangent stays that of one elasticity, and unloading has no plastic
/// strain to change it. At the end of the increment stress stays and the elastic strain is that of the new
/// modulus; the plastic strain that is stored is what would be left if the point were unloaded.
inline PlaneModuli fallen(const PlaneModuli& moduli, double share) {
  PlaneModuli result = moduli;
  result.mean *= share;
  result.shear *= share;
  result.compliance /= share;
  result.poisson /= share;
  return result;
}

}  // namespace halftool::solver
