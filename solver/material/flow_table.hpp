#pragma once
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// A flow curve given by points: straight between them, and beyond the last a power law sigma = sigma_N (eps/
/// eps_N)^m that goes on with the value and the slope of the last two points (m at most 1), so that hardening
/// dies out with strain as in metals; level where the last two points are.
class FlowTable {
 public:
  /// @throws std::invalid_argument unless there are two points or more, strains rise from 0, stresses are
  /// above 0 and do not fall
  explicit FlowTable(const TableHardening& table);

  [[nodiscard]] FlowStress at(double equivalent_plastic_strain) const;
  /// Integral of the flow stress from 0 [MPa].
  [[nodiscard]] double work(double equivalent_plastic_strain) const;

  [[nodiscard]] const std::vector<double>& strains() const { return strain_; }
  [[nodiscard]] const std::vector<double>& stresses() const { return stress_; }  ///< [MPa]
  [[nodiscard]] double last_strain() const { return strain_.back(); }
  [[nodiscard]] double exponent() const { return exponent_; }  ///< m of the power law beyond the last point

 private:
  std::vector<double> strain_;
  std::vector<double> stress_;
  std::vector<double> work_;  ///< up to each point
  double exponent_ = 0;

  [[nodiscard]] std::size_t piece(double strain) const;
};

}  // namespace halftool::solver
