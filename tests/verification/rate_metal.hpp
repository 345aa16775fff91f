#pragma once
#include <Eigen/Core>
#include <array>
#include <variant>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A point under von Mises yield that follows the published rate equations of kinematic hardening in full
/// tensors, one small step at a time (Euler). Sources: cyclic_loading.hpp.
class RateMetal {
 public:
  explicit RateMetal(const solver::SheetMaterial& material);

  /// A step of strain along axis 1, stress across zero.
  void pull(double change);
  /// A step of strain in the plane [11, 22, 2*12], plane stress.
  void strain_by(const Eigen::Vector3d& change);

  [[nodiscard]] const Eigen::Matrix3d& stress() const { return stress_; }  ///< [MPa]
  [[nodiscard]] double flow_sum() const { return flow_sum_; }              ///< equivalent plastic strain

 private:
  /// Centre of the yield surface for dp: of each term, or of both surfaces.
  using Terms = std::array<Eigen::Matrix3d, solver::kMostBackstressTerms>;

  solver::SheetMaterial material_;
  Eigen::Matrix3d stress_ = Eigen::Matrix3d::Zero();
  Terms centre_;
  Eigen::Matrix3d stagnation_ = Eigen::Matrix3d::Zero();  // q
  double radius_ = 0, gain_ = 0;                          // r, R
  double flow_sum_ = 0;

  [[nodiscard]] Eigen::Matrix3d relative() const;
  [[nodiscard]] solver::FlowStress size() const;
  [[nodiscard]] double modulus() const;
  [[nodiscard]] Terms rates(const Eigen::Matrix3d& normal) const;
  [[nodiscard]] double resistance(const Eigen::Matrix3d& normal, const Terms& rates) const;
  [[nodiscard]] bool yields(const Eigen::Matrix3d& trial) const;
  void flow(const Terms& rates, double amount);
};

}  // namespace halftool::test
