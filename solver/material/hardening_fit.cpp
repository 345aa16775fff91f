#include "solver/material/hardening_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <unsupported/Eigen/NonLinearOptimization>
#include <unsupported/Eigen/NumericalDiff>

#include "solver/material/hardening.hpp"

namespace halftool::solver {
namespace {

using Eigen::VectorXd;

/// Law from the logarithms of its constants, which keeps these positive.
using LawOf = std::function<Hardening(const VectorXd&)>;

/// Law less curve, over the mean stress, as a function of the logarithms.
struct StressErrors {
  using Scalar = double;
  using InputType = VectorXd;
  using ValueType = VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  const std::vector<FlowPoint>& flow;
  const LawOf& law;
  int n_constants;
  double scale;

  [[nodiscard]] int inputs() const { return n_constants; }
  [[nodiscard]] int values() const { return static_cast<int>(flow.size()); }

  int operator()(const VectorXd& logarithms, VectorXd& errors) const {
    const Hardening hardening = law(logarithms);
    for (int i = 0; i < values(); ++i) {
      const FlowPoint& point = flow[static_cast<std::size_t>(i)];
      errors[i] = (flow_stress(hardening, point.plastic_strain).stress - point.stress) / scale;
    }
    return 0;
  }
};

double mean_stress(const std::vector<FlowPoint>& flow) {
  double sum = 0;
  for (const FlowPoint& point : flow) sum += point.stress;
  return sum / static_cast<double>(flow.size());
}

void judge(HardeningFit& fit, const std::vector<FlowPoint>& flow) {
  double squares = 0;
  for (const FlowPoint& point : flow) {
    const double error = flow_stress(fit.law, point.plastic_strain).stress - point.stress;
    squares += error * error;
    if (std::abs(error) <= std::abs(fit.greatest)) continue;
    fit.greatest = error;
    fit.greatest_at = point.plastic_strain;
  }
  fit.rms = std::sqrt(squares / static_cast<double>(flow.size()));
}

bool is_sound(const Hardening& law) {
  SheetMaterial sheet;
  sheet.youngs_modulus = 1;
  sheet.hardening = law;
  try {
    require_sound(sheet);
  } catch (const std::invalid_argument&) {
    return false;
  }
  return std::isfinite(flow_stress(law, 1).stress);
}

/// The best of the searches from all starts.
HardeningFit search(const std::string& name, const std::vector<FlowPoint>& flow, const LawOf& law,
                    const std::vector<VectorXd>& starts) {
  using Difference = Eigen::NumericalDiff<StressErrors, Eigen::Central>;
  HardeningFit best;
  best.name = name;
  double least = std::numeric_limits<double>::infinity();
  for (const VectorXd& start : starts) {
    Difference errors(StressErrors{flow, law, static_cast<int>(start.size()), mean_stress(flow)});
    Eigen::LevenbergMarquardt<Difference> levenberg(errors);
    levenberg.parameters.ftol = levenberg.parameters.xtol = 1e-15;
    levenberg.parameters.maxfev = 5000;
    VectorXd logarithms = start;
    levenberg.minimize(logarithms);
    VectorXd left(errors.values());
    errors(logarithms, left);
    if (!(left.squaredNorm() < least) || !is_sound(law(logarithms))) continue;
    least = left.squaredNorm();
    best.law = law(logarithms);
    best.found = true;
  }
  if (best.found)
    judge(best, flow);
  else
    best.remark = "no sound law of this kind comes near the curve";
  return best;
}

/// Logarithms of constants from which a search begins.
VectorXd start(std::initializer_list<double> constants) {
  VectorXd logarithms(static_cast<Eigen::Index>(constants.size()));
  Eigen::Index i = 0;
  for (const double constant : constants) logarithms[i++] = std::log(std::max(constant, 1e-12));
  return logarithms;
}

/// Power law through first and last point at strains moved by eps0: {K, n}.
std::pair<double, double> power_through_ends(const std::vector<FlowPoint>& flow, double eps0) {
  const FlowPoint &a = flow.front(), &b = flow.back();
  const double n = std::clamp(
      std::log(b.stress / a.stress) / std::log((b.plastic_strain + eps0) / (a.plastic_strain + eps0)), 0.01,
      0.9);
  return {b.stress / std::pow(b.plastic_strain + eps0, n), n};
}

HardeningFit fit_swift(const std::vector<FlowPoint>& flow) {
  const LawOf law = [](const VectorXd& x) -> Hardening {
    return SwiftHardening{std::exp(x[0]), std::exp(x[1]), std::exp(x[2])};
  };
  std::vector<VectorXd> starts;
  for (const double eps0 : {1e-4, 1e-3, 1e-2, 5e-2}) {
    const auto [strength, n] = power_through_ends(flow, eps0);
    starts.push_back(start({strength, eps0, n}));
  }
  return search("Swift", flow, law, starts);
}

HardeningFit fit_voce(const std::vector<FlowPoint>& flow) {
  const LawOf law = [](const VectorXd& x) -> Hardening {
    return VoceHardening{std::exp(x[0]), std::exp(x[0]) + std::exp(x[1]), std::exp(x[2])};
  };
  const double gain = std::max(flow.back().stress - flow.front().stress, 1e-3 * flow.front().stress);
  std::vector<VectorXd> starts;
  for (const double rate : {2.0, 6.0, 15.0, 40.0})
    starts.push_back(start({flow.front().stress, 1.2 * gain, rate}));
  return search("Voce", flow, law, starts);
}

HardeningFit fit_hollomon(const std::vector<FlowPoint>& flow) {
  const FlowPoint first = flow.front();
  const LawOf law = [first](const VectorXd& x) -> Hardening {
    const double strength = std::exp(x[0]), n = std::exp(x[1]);
    const double eps0 = std::max(std::pow(first.stress / strength, 1 / n) - first.plastic_strain, 1e-9);
    return HollomonHardening{strength, n, strength * std::pow(eps0, n)};
  };
  const auto [strength, n] = power_through_ends(flow, 1e-3);
  auto fit = search("Hollomon", flow, law, {start({strength, n}), start({1.2 * strength, 1.5 * n})});
  if (fit.found) fit.remark = "held to the first of the points; from first yield on it is Swift's law";
  return fit;
}

HardeningFit fit_ludwik(const std::vector<FlowPoint>& flow) {
  const LawOf law = [](const VectorXd& x) -> Hardening {
    return LudwikHardening{std::exp(x[0]), std::exp(x[1]), std::exp(x[2])};
  };
  const double gain = std::max(flow.back().stress - flow.front().stress, 1e-3 * flow.front().stress);
  std::vector<VectorXd> starts;
  for (const double n : {0.3, 0.5, 0.8})
    for (const double share : {0.5, 0.95})
      starts.push_back(
          start({share * flow.front().stress, gain / std::pow(flow.back().plastic_strain, n), n}));
  return search("Ludwik", flow, law, starts);
}

HardeningFit fit_blend(const std::vector<FlowPoint>& flow, const HardeningFit& swift,
                       const HardeningFit& voce) {
  HardeningFit fit;
  fit.name = "Swift-Voce";
  fit.remark = "needs both laws";
  if (!swift.found || !voce.found) return fit;
  SwiftVoceHardening blend{0, std::get<SwiftHardening>(swift.law), std::get<VoceHardening>(voce.law)};
  blend.swift_share = fit_swift_share(flow, blend.swift, blend.voce);
  fit.law = blend;
  fit.found = true;
  fit.remark = "this test hardly decides the share: choose it by a bulge test or by what lies beyond";
  judge(fit, flow);
  return fit;
}

}  // namespace

double fit_swift_share(const std::vector<FlowPoint>& flow, const SwiftHardening& swift,
                       const VoceHardening& voce) {
  double over = 0, under = 0;
  for (const FlowPoint& point : flow) {
    const double low = flow_stress(voce, point.plastic_strain).stress;
    const double apart = flow_stress(swift, point.plastic_strain).stress - low;
    over += apart * (point.stress - low);
    under += apart * apart;
  }
  return under > 0 ? std::clamp(over / under, 0.0, 1.0) : 0.5;
}

std::vector<HardeningFit> fit_hardening(const std::vector<FlowPoint>& flow) {
  const HardeningFit swift = fit_swift(flow), voce = fit_voce(flow);
  return {swift, voce, fit_hollomon(flow), fit_ludwik(flow), fit_blend(flow, swift, voce)};
}

}  // namespace halftool::solver
