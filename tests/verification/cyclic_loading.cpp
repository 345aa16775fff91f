#include "tests/verification/cyclic_loading.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "solver/assessment/section_bend.hpp"
#include "solver/material/metal_point.hpp"
#include "tests/support/fibre_bending.hpp"
#include "tests/verification/rate_metal.hpp"

namespace halftool::test {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using solver::MetalPoint;
using solver::SheetMaterial;

double at_leg(double start, double end, int i, int n) {
  return start + (end - start) * i / n;
}

}  // namespace

std::vector<LoopPoint> section_loop(const SheetMaterial& material, const Corners& corners, int n) {
  MetalPoint point(material);
  std::vector<LoopPoint> loop;
  double start = 0;
  for (const double corner : corners) {
    for (int i = 1; i <= n; ++i) {
      const double strain = at_leg(start, corner, i, n);
      const double stress = point.pull(strain);
      loop.push_back({strain, stress, point.state().equivalent_plastic_strain});
    }
    start = corner;
  }
  return loop;
}

std::vector<LoopPoint> integrated_loop(const SheetMaterial& material, const Corners& corners, int n,
                                       int n_substeps) {
  RateMetal metal(material);
  std::vector<LoopPoint> loop;
  double start = 0;
  for (const double corner : corners) {
    for (int i = 1; i <= n; ++i) {
      const double change = (corner - start) / n;
      const int steps = n_substeps / n;
      for (int k = 0; k < steps; ++k) metal.pull(change / steps);
      loop.push_back({at_leg(start, corner, i, n), metal.stress()(0, 0), metal.flow_sum()});
    }
    start = corner;
  }
  return loop;
}

double closed_form_miss(const SheetMaterial& material, const std::vector<LoopPoint>& loop) {
  double largest = 0;
  double worst = 0;
  double sum = 0;  // equivalent plastic strain
  std::array<double, solver::kMostBackstressTerms> X = {};
  double last_plastic = 0;
  for (const LoopPoint& at : loop) {
    const double plastic = at.strain - at.stress / material.youngs_modulus;
    const double change = plastic - last_plastic;
    last_plastic = plastic;
    largest = std::max(largest, std::abs(at.stress));
    if (std::abs(change) < 1e-12) continue;
    const double v = change > 0 ? 1 : -1;
    sum += std::abs(change);
    double stress = v * solver::flow_stress(material.hardening, sum).stress;
    for (std::size_t i = 0; i < material.backstress.size(); ++i) {
      const auto [modulus, rate] = material.backstress[i];
      const double end = rate > 0 ? v * modulus / rate : 0;
      X[i] = rate > 0 ? end + (X[i] - end) * std::exp(-rate * std::abs(change)) : X[i] + modulus * change;
      stress += X[i];
    }
    worst = std::max(worst, std::abs(at.stress - stress));
  }
  return worst / largest;
}

double loop_miss(const std::vector<LoopPoint>& loop, const std::vector<LoopPoint>& reference) {
  double largest = 0;
  double worst = 0;
  for (std::size_t i = 0; i < reference.size(); ++i) {
    largest = std::max(largest, std::abs(reference[i].stress));
    worst = std::max(worst, std::abs(loop.at(i).stress - reference[i].stress));
  }
  return worst / largest;
}

double ratchet_step(const SheetMaterial& material, double low, double high) {
  const auto [modulus, rate] = material.backstress.front();
  const double k = solver::flow_stress(material.hardening, 0).stress;
  const double end = modulus / rate;
  return std::log((end * end - (low + k) * (low + k)) / (end * end - (high - k) * (high - k))) / rate;
}

double section_ratchet_step(const SheetMaterial& material, double low, double high) {
  MetalPoint point(material);
  double before = 0;
  double gained = 0;
  for (int cycle = 0; cycle < 3; ++cycle) {
    point.load(high);
    point.load(low);
    const double plastic = point.state().plastic_strain[0];
    gained = plastic - before;
    before = plastic;
  }
  return gained;
}

std::vector<Vector3d> section_path(const SheetMaterial& material, const StrainPath& path, int n) {
  MetalPoint point(material);
  std::vector<Vector3d> stresses;
  Vector3d start = Vector3d::Zero();
  for (const Vector3d& corner : path) {
    Vector3d stress;
    for (int i = 1; i <= n; ++i) stress = point.go(start + (corner - start) * i / n);
    stresses.push_back(stress);
    start = corner;
  }
  return stresses;
}

std::vector<Vector3d> integrated_path(const SheetMaterial& material, const StrainPath& path, int n_substeps) {
  RateMetal metal(material);
  std::vector<Vector3d> stresses;
  Vector3d start = Vector3d::Zero();
  for (const Vector3d& corner : path) {
    for (int i = 0; i < n_substeps; ++i) metal.strain_by((corner - start) / n_substeps);
    const Matrix3d& s = metal.stress();
    stresses.emplace_back(s(0, 0), s(1, 1), s(0, 1));
    start = corner;
  }
  return stresses;
}

double path_miss(const std::vector<Vector3d>& stress, const std::vector<Vector3d>& reference) {
  double largest = 0;
  double worst = 0;
  for (std::size_t i = 0; i < reference.size(); ++i) {
    largest = std::max(largest, reference[i].norm());
    worst = std::max(worst, (stress.at(i) - reference[i]).norm());
  }
  return worst / largest;
}

StrainPath turning_path() {
  return {{0.03, -0.01, 0}, {0.03, -0.01, 0.04}, {0.02, 0.02, 0.04}, {-0.01, 0.01, 0}};
}

BentAgain section_bent_again(const SheetMaterial& material, double thickness, double radius, int n_points) {
  constexpr int kSteps = 80;
  solver::SectionBend strip(material, n_points, thickness);
  BentAgain result;
  result.moment = strip.bend(radius, kSteps);
  result.flat_moment = strip.straighten(kSteps);
  result.again_moment = strip.bend(radius, kSteps);
  result.springback = strip.release();
  return result;
}

BentAgain fibres_bent_again(const SheetMaterial& material, double thickness, double radius, int n_fibres,
                            int n_steps) {
  FibreBend bend{material, thickness, radius};
  bend.n_fibres = n_fibres;
  bend.n_steps = n_steps;
  BentAgain result;
  result.moment = bend_and_release(bend).moment;
  bend.straightened = true;
  result.flat_moment = bend_and_release(bend).moment;
  bend.bent_again = true;
  const FibreBendResult again = bend_and_release(bend);
  result.again_moment = again.moment;
  result.springback = again.springback;
  return result;
}

}  // namespace halftool::test
