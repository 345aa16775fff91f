#include "tests/verification/rate_metal.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::test {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using solver::YoshidaUemoriHardening;

Matrix3d deviator(const Matrix3d& s) {
  return s - s.trace() / 3 * Matrix3d::Identity();
}
double product(const Matrix3d& a, const Matrix3d& b) {
  return a.cwiseProduct(b).sum();
}
double equivalent(const Matrix3d& deviator) {
  return std::sqrt(1.5 * product(deviator, deviator));
}

}  // namespace

RateMetal::RateMetal(const solver::SheetMaterial& material) : material_(material) {
  centre_.fill(Matrix3d::Zero());
}

Matrix3d RateMetal::relative() const {
  Matrix3d result = deviator(stress_);
  for (const Matrix3d& part : centre_) result -= part;
  return result;
}

solver::FlowStress RateMetal::size() const {
  if (const auto* two = std::get_if<YoshidaUemoriHardening>(&material_.hardening)) return {two->yield, 0};
  return solver::flow_stress(material_.hardening, flow_sum_);
}

double RateMetal::modulus() const {
  if (!material_.falling_modulus) return material_.youngs_modulus;
  const auto [saturated, rate] = *material_.falling_modulus;
  return material_.youngs_modulus -
         (material_.youngs_modulus - saturated) * (1 - std::exp(-rate * flow_sum_));
}

RateMetal::Terms RateMetal::rates(const Matrix3d& normal) const {
  Terms change;
  change.fill(Matrix3d::Zero());
  if (const auto* two = std::get_if<YoshidaUemoriHardening>(&material_.hardening)) {
    const double room = two->bound + gain_ - two->yield;
    const double moved = equivalent(centre_[0]);
    change[0] = two->approach * 2 / 3 * room * normal;
    if (moved > 0) change[0] -= two->approach * std::sqrt(room / moved) * centre_[0];
    change[1] = two->bound_rate * (2.0 / 3 * two->bound_shift * normal - centre_[1]);
    return change;
  }
  for (std::size_t i = 0; i < material_.backstress.size(); ++i)
    change[i] =
        2.0 / 3 * material_.backstress[i].modulus * normal - material_.backstress[i].rate * centre_[i];
  return change;
}

double RateMetal::resistance(const Matrix3d& normal, const Terms& rates) const {
  double sum = size().slope;
  for (const Matrix3d& rate : rates) sum += product(normal, rate);
  return sum;
}

bool RateMetal::yields(const Matrix3d& trial) const {
  Matrix3d apart = deviator(trial);
  for (const Matrix3d& part : centre_) apart -= part;
  return equivalent(apart) > size().stress;
}

void RateMetal::flow(const Terms& rates, double amount) {
  for (std::size_t i = 0; i < centre_.size(); ++i) centre_[i] += amount * rates[i];
  flow_sum_ += amount;
  const auto* two = std::get_if<YoshidaUemoriHardening>(&material_.hardening);
  if (two == nullptr) return;
  const Matrix3d away = centre_[1] - stagnation_;
  const double distance = equivalent(away);
  if (distance <= radius_) return;
  gain_ += amount * two->bound_rate * (two->bound_gain - gain_);
  radius_ += two->stagnation * (distance - radius_);
  stagnation_ = centre_[1] - radius_ / distance * away;
}

void RateMetal::pull(double change) {
  Matrix3d trial = stress_;
  trial(0, 0) += modulus() * change;
  if (!yields(trial)) {
    stress_ = trial;
    return;
  }
  const Matrix3d apart = relative();
  const Matrix3d normal = 1.5 * apart / equivalent(apart);
  const Terms rate = rates(normal);
  // The drift off the yield surface is taken back with the step.
  const double drift = equivalent(apart) - size().stress;
  const double along = normal(0, 0);
  const double amount =
      (along * modulus() * change + drift) / (modulus() * along * along + resistance(normal, rate));
  stress_(0, 0) += modulus() * (change - std::max(0.0, amount) * along);
  flow(rate, std::max(0.0, amount));
}

void RateMetal::strain_by(const Vector3d& change) {
  const double nu = material_.poissons_ratio;
  Matrix3d plane;
  plane << 1, nu, 0, nu, 1, 0, 0, 0, 0.5 * (1 - nu);
  plane *= modulus() / (1 - nu * nu);
  const auto stressed = [&](const Vector3d& strain) {
    const Vector3d more = plane * strain;
    Matrix3d result = stress_;
    result(0, 0) += more[0];
    result(1, 1) += more[1];
    result(0, 1) += more[2];
    result(1, 0) += more[2];
    return result;
  };
  if (!yields(stressed(change))) {
    stress_ = stressed(change);
    return;
  }
  const Matrix3d apart = relative();
  const Matrix3d normal = 1.5 * apart / equivalent(apart);
  const Terms rate = rates(normal);
  const Vector3d n(normal(0, 0), normal(1, 1), 2 * normal(0, 1));
  const double drift = equivalent(apart) - size().stress;
  const double amount =
      std::max(0.0, (n.dot(plane * change) + drift) / (n.dot(plane * n) + resistance(normal, rate)));
  stress_ = stressed(change - amount * n);
  flow(rate, amount);
}

}  // namespace halftool::test
