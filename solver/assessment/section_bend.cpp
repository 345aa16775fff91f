#include "solver/assessment/section_bend.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/assessment/bracketed_secant.hpp"

namespace halftool::solver {

SectionBend::SectionBend(const SheetMaterial& material, int n_points, double thickness)
    : section_(material, n_points),
      committed_(n_points),
      trial_(n_points),
      history_(static_cast<std::size_t>(n_points * section_.n_history())),
      trial_history_(history_),
      plate_(material.youngs_modulus / (1 - material.poissons_ratio * material.poissons_ratio)) {
  frozen_.initial_thickness = frozen_.thickness = thickness;
}

double SectionBend::bend(double radius, int n_steps, double outer, double inner) {
  for (int step = 1; step <= n_steps; ++step) {
    const double share = static_cast<double>(step) / n_steps;
    set_pressures(share * outer, share * inner);
    balance_at(share / radius);
  }
  formed_turn_ = turn_;
  return formed_moment_ = moment_;
}

double SectionBend::straighten(int n_steps) {
  const double formed = formed_turn_ / mid_;
  for (int step = 1; step <= n_steps; ++step) balance_at(formed * (1 - static_cast<double>(step) / n_steps));
  return formed_moment_ = moment_;
}

void SectionBend::balance_at(double curvature) {
  BracketedSecant search(plate_ * t0(), 0.01);
  for (int iteration = 0;; ++iteration) {
    turn_ = curvature * mid_;
    evaluate();
    if (balanced(0, iteration)) break;
    mid_ = search.next(mid_, force_);
  }
  accept();
}

double SectionBend::release(double outer, double inner) {
  constexpr int kSteps = 10;
  for (int step = 1; step <= kSteps; ++step) {
    const double share = 1 - static_cast<double>(step) / kSteps;
    set_pressures(share * outer, share * inner);
    const double target = share * formed_moment_;
    for (int iteration = 0;; ++iteration) {
      evaluate();
      if (balanced(moment_ - target, iteration)) break;
      mid_ -= force_ / (plate_ * t0());
      turn_ -= (moment_ - target) / (plate_ * t0() * t0() * t0() / 12);
    }
    accept();
  }
  return 1 - turn_ / formed_turn_;
}

void SectionBend::set_pressures(double outer, double inner) {
  frozen_.outer_pressure = outer;
  frozen_.inner_pressure = inner;
}

void SectionBend::evaluate() {
  SectionStrain strain;
  strain.membrane[0] = 0.5 * (mid_ * mid_ - 1);
  strain.curvature[0] = -mid_ * turn_;
  frozen_.inverse_metric = {1 / (mid_ * mid_), 1, 0};
  SectionResponse response;
  if (!section_.respond(strain, frozen_, committed_.data(), trial_.data(), response,
                        {history_.data(), trial_history_.data()}))
    throw std::runtime_error("section bend: no response");
  force_ = mid_ * response.resultant[0] - turn_ * response.resultant[3];
  moment_ = -mid_ * response.resultant[3];
  const double thickness = t0() * std::exp(response.thickness_strain);
  thickness_settled_ = std::abs(thickness / frozen_.thickness - 1) < 1e-11;
  frozen_.thickness = thickness;
}

bool SectionBend::balanced(double moment_miss, int iteration) const {
  if (iteration > 2000) throw std::runtime_error("section bend: no balance");
  return thickness_settled_ && std::abs(force_) < 1e-8 * t0() && std::abs(moment_miss) < 1e-8 * t0() * t0();
}

}  // namespace halftool::solver
