#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/material/section.hpp"

namespace halftool::solver {

/// One point of a sheet, driven by logarithmic strain through a section of one layer.
class MetalPoint {
 public:
  explicit MetalPoint(const SheetMaterial& material);

  /// Stress [11, 22, 12] [MPa] that a strain [11, 22, 2*12] gives from the accepted state.
  /// @throws std::runtime_error if the section does not answer
  Eigen::Vector3d try_strain(const Eigen::Vector3d& strain, double normal_stress = 0);
  /// Takes the last strain that was tried.
  void accept();
  Eigen::Vector3d go(const Eigen::Vector3d& strain, double normal_stress = 0);

  /// Goes to a strain along axis 0 or 1 in equal steps, stress across zero. @return stress along [MPa]
  /// @throws std::runtime_error if the section does not answer or no strain across does
  double pull(double strain, int n_steps = 1, int axis = 0);
  /// Goes to a stress along axis 0 in one step, stress across zero. @return strain along
  double load(double stress);

  [[nodiscard]] const Eigen::Vector3d& strain() const { return strain_; }
  [[nodiscard]] const PointState& state() const { return accepted_; }
  [[nodiscard]] const std::vector<double>& history() const { return history_; }
  [[nodiscard]] const SectionResponse& response() const { return response_; }  ///< of the last try

 private:
  Section section_;
  PointState accepted_, tried_;
  std::vector<double> history_, tried_history_;
  SectionResponse response_;
  Eigen::Vector3d strain_ = Eigen::Vector3d::Zero();
  Eigen::Vector3d tried_strain_ = Eigen::Vector3d::Zero();
};

}  // namespace halftool::solver
