#include "solver/material/flow_table.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

namespace halftool::solver {
namespace {

void require(bool holds, const std::string& what, std::size_t point) {
  if (!holds) throw std::invalid_argument("FlowTable: " + what + ", point " + std::to_string(point + 1));
}

}  // namespace

FlowTable::FlowTable(const TableHardening& table) {
  const auto& points = table.points;
  require(points.size() >= 2, "at least two points are needed", points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto& [strain, stress] = points[i];
    require(std::isfinite(strain) && std::isfinite(stress) && stress > 0, "stress must be above 0", i);
    require(i > 0 ? strain > strain_.back() : strain == 0, "strains must rise from 0", i);
    require(i == 0 || stress >= stress_.back(), "stress must not fall", i);
    work_.push_back(i == 0 ? 0 : work_.back() + 0.5 * (stress + stress_.back()) * (strain - strain_.back()));
    strain_.push_back(strain);
    stress_.push_back(stress);
  }
  const std::size_t last = points.size() - 1;
  const double slope = (stress_[last] - stress_[last - 1]) / (strain_[last] - strain_[last - 1]);
  exponent_ = std::min(1.0, slope * strain_[last] / stress_[last]);
}

std::size_t FlowTable::piece(double strain) const {
  const auto above = std::upper_bound(strain_.begin() + 1, strain_.end() - 1, strain);
  return static_cast<std::size_t>(above - strain_.begin()) - 1;
}

FlowStress FlowTable::at(double equivalent_plastic_strain) const {
  const double strain = equivalent_plastic_strain;
  if (strain > strain_.back()) {
    const double stress = stress_.back() * std::pow(strain / strain_.back(), exponent_);
    return {stress, exponent_ * stress / strain};
  }
  const std::size_t i = piece(strain);
  const double slope = (stress_[i + 1] - stress_[i]) / (strain_[i + 1] - strain_[i]);
  return {stress_[i] + slope * (strain - strain_[i]), slope};
}

double FlowTable::work(double equivalent_plastic_strain) const {
  const double strain = equivalent_plastic_strain;
  const double stress = at(strain).stress;
  if (strain > strain_.back())
    return work_.back() + (stress * strain - stress_.back() * strain_.back()) / (exponent_ + 1);
  const std::size_t i = piece(strain);
  return work_[i] + 0.5 * (stress_[i] + stress) * (strain - strain_[i]);
}

}  // namespace halftool::solver
