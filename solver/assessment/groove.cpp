#include "solver/assessment/groove.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace halftool::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

YieldNormal normal_at(const MovingYield& yield, const Vector3d& direction) {
  return std::visit([&](const auto& of) { return of.normal(direction); }, yield);
}
double equivalent(const MovingYield& yield, const Vector3d& stress) {
  return std::visit([&](const auto& of) { return of.equivalent(stress); }, yield);
}
FlowStress flow_at(const FlowCurve& curve, double strain) {
  return std::visit([&](const auto& of) { return flow_stress(of, strain); }, curve);
}

/// A groove after some strain, and how fast the sheet beside it strains. Flow stress is that at the groove's
/// strain rate.
struct Place {
  double inside = 0;     ///< equivalent plastic strain in the groove
  double outside = 0;    ///< beside it
  double thickness = 0;  ///< logarithm of the groove's thickness over the first one of the sheet beside it
  double across = 0;     ///< stress along the groove over that of the sheet, over the groove's flow stress
  double level = 1;      ///< stress of the sheet, as it acts in the groove, over the groove's flow stress
  double rate = 0;       ///< d outside / d inside
  double log_rate = 0;   ///< its logarithm where that is sought
};

/// What is sought of the sheet beside the groove, beside its own strain along the groove.
enum class Sought {
  stress,   ///< below yield: its strain stays
  strain,   ///< at its flow stress
  log_rate  ///< logarithm of d outside / d inside, which sets the flow stress of a rate-sensitive metal
};

/// d of the sheet's strain, rate and stress with what is sought of it.
struct Motion {
  double outside = 0, rate = 0, level = 0;
};

/// A quantity at the end of a step from its rate there: value = base + weight * rate (BDF2, Euler at first).
struct Step {
  double length = 0;
  double weight = 0;
  double outside = 0, thickness = 0;  ///< bases

  Step(const Place& last, const Place& before, double h) : length(h) {
    const double previous = last.inside - before.inside;
    const double r = previous > 0 ? h / previous : 0;
    weight = h * (1 + r) / (1 + 2 * r);
    const auto base = [&](double now, double then) {
      return ((1 + r) * (1 + r) * now - r * r * then) / (1 + 2 * r);
    };
    outside = base(last.outside, before.outside);
    thickness = base(last.thickness, before.thickness);
  }
};

struct Equations {
  Vector3d residual;
  Matrix3d slope;
};

class GrooveWalk {
 public:
  GrooveWalk(const GrooveMetal& metal, const StraightPath& path, double turn)
      : metal_(metal), path_(path), start_(std::tan(turn)) {}

  [[nodiscard]] std::optional<Place> step(const Place& last, const Place& before, double h,
                                          Sought sought) const;
  /// What is sought of a sheet that flows.
  [[nodiscard]] Sought flowing() const {
    return metal_.rate_exponent > 0 ? Sought::log_rate : Sought::strain;
  }

  /// Stress of the sheet over its flow stress.
  [[nodiscard]] double stress_share(const Place& at) const {
    return at.level * flow_at(metal_.curve, at.inside).stress /
           (step_up(at) * flow_at(metal_.curve, at.outside).stress);
  }
  /// Logarithm of what the groove carries under one direction of stress.
  [[nodiscard]] double strength(const Place& at) const {
    return std::log(flow_at(metal_.curve, at.inside).stress) + at.thickness;
  }

 private:
  const GrooveMetal& metal_;
  const StraightPath& path_;
  double start_;

  [[nodiscard]] double thinning(double outside) const { return -2 * path_.flow[0] * outside; }
  /// Sheet's thickness over the groove's.
  [[nodiscard]] double step_up(const Place& at) const {
    return std::exp(thinning(at.outside) - at.thickness);
  }
  /// Newton's method from `at`.
  [[nodiscard]] std::optional<Place> solve(const Step& step, Place at, Sought sought) const;
  /// Moves what is sought by as much, and nothing of what follows from it.
  static void move(Place& at, Sought sought, double by);
  /// Puts stress and rate of the sheet in their place.
  Motion follow(const Step& step, double inside_stress, Sought sought, Place& at) const;
  /// Unknowns: across, what is sought of the sheet, thickness.
  [[nodiscard]] Equations equations(const Step& step, double inside_stress, Sought sought, Place& at) const;
};

void GrooveWalk::move(Place& at, Sought sought, double by) {
  if (sought == Sought::stress) at.level += by;
  if (sought == Sought::strain) at.outside = std::max(0.0, at.outside + by);
  if (sought == Sought::log_rate) at.log_rate += by;
}

Motion GrooveWalk::follow(const Step& step, double inside_stress, Sought sought, Place& at) const {
  if (sought == Sought::stress) return {0, 0, 1};
  Motion motion{1, 1 / step.weight, 0};
  double gain = 0;  // of flow stress over the groove's, its logarithm
  if (sought == Sought::strain) {
    at.rate = (at.outside - step.outside) / step.weight;
  } else {
    at.rate = std::exp(at.log_rate);
    at.outside = std::max(0.0, step.outside + step.weight * at.rate);
    motion = {step.weight * at.rate, at.rate, 0};
    gain = metal_.rate_exponent * at.log_rate;
  }
  const FlowStress outside = flow_at(metal_.curve, at.outside);
  at.level = outside.stress / inside_stress * step_up(at) * std::exp(gain);
  motion.level = at.level * (outside.slope / outside.stress - 2 * path_.flow[0]) * motion.outside;
  if (sought == Sought::log_rate) motion.level += at.level * metal_.rate_exponent;
  return motion;
}

Equations GrooveWalk::equations(const Step& step, double inside_stress, Sought sought, Place& at) const {
  const Motion sheet = follow(step, inside_stress, sought, at);
  const double shear = path_.major * (1 - path_.ratio);
  const double turn = std::atan(start_ * std::exp(shear * at.outside));
  const double turn_rate = shear * std::sin(turn) * std::cos(turn);
  const double twice = 2 * (turn + path_.along);
  // Unit stress along the groove; with a strain, the strain along the groove.
  const Vector3d along(1, -std::cos(twice), -std::sin(twice));
  const Vector3d along_rate = 2 * turn_rate * sheet.outside * Vector3d(0, std::sin(twice), -std::cos(twice));
  const double step_up_now = step_up(at);
  const Vector3d pressed = Vector3d::UnitX() * (2 * metal_.normal_pressure / inside_stress);
  const Vector3d direction = at.level * path_.stress - (step_up_now - 1) * pressed + at.across * along;
  const YieldNormal yield = normal_at(metal_.yield, direction);
  const double beside = along.dot(path_.flow);

  Matrix3d motion;  // of the direction with the unknowns
  motion.col(0) = along;
  motion.col(1) = sheet.level * path_.stress + at.across * along_rate +
                  2 * path_.flow[0] * sheet.outside * step_up_now * pressed;
  motion.col(2) = step_up_now * pressed;
  if (sought != Sought::stress) motion.col(2) -= at.level * path_.stress;
  const Matrix3d flow = yield.hessian * motion;

  Equations e;
  e.residual = {yield.excess, along.dot(yield.gradient) - at.rate * beside,
                at.thickness - step.thickness + 2 * step.weight * yield.gradient[0]};
  e.slope.row(0) = yield.gradient.transpose() * motion;
  e.slope.row(1) = along.transpose() * flow;
  e.slope.row(2) = 2 * step.weight * flow.row(0);
  e.slope(2, 2) += 1;
  e.slope(1, 1) +=
      along_rate.dot(yield.gradient) - beside * sheet.rate - at.rate * along_rate.dot(path_.flow);
  return e;
}

std::optional<Place> GrooveWalk::step(const Place& last, const Place& before, double h, Sought sought) const {
  const Step step(last, before, h);
  Place start = last;
  start.inside += h;
  if (sought == Sought::stress) start.rate = 0;
  if (sought == Sought::strain) start.outside = last.outside + h * std::clamp(last.rate, 0.0, 1.0);
  const auto next = solve(step, start, sought);
  if (next || sought != Sought::log_rate) return next;
  // Once more from a sheet that rests, at the rate at which its flow stress is what then acts in it.
  start.rate = 0;
  auto rested = solve(step, start, Sought::stress);
  if (!rested) return std::nullopt;
  rested->log_rate = std::log(stress_share(*rested)) / metal_.rate_exponent;
  return solve(step, *rested, sought);
}

std::optional<Place> GrooveWalk::solve(const Step& step, Place at, Sought sought) const {
  constexpr int kMostIterations = 40;
  constexpr double kTolerance = 1e-11;
  constexpr double kMostRise = 1;  // of the logarithm of the rate: its exponential overshoots
  const double inside_stress = flow_at(metal_.curve, at.inside).stress;
  Equations now = equations(step, inside_stress, sought, at);
  for (int i = 0; i < kMostIterations; ++i) {
    if (!now.residual.allFinite()) return std::nullopt;
    if (now.residual.norm() < kTolerance) return at;
    const Vector3d motion = -now.slope.partialPivLu().solve(now.residual);
    double share = sought == Sought::log_rate && motion[1] > kMostRise ? kMostRise / motion[1] : 1;
    for (const double least = 1e-4 * share;; share *= 0.5) {
      if (share < least) return std::nullopt;
      Place next = at;
      next.across += share * motion[0];
      move(next, sought, share * motion[1]);
      next.thickness += share * motion[2];
      const Equations then = equations(step, inside_stress, sought, next);
      if (!(then.residual.norm() <= (1 - 1e-4 * share) * now.residual.norm())) continue;
      at = next;
      now = then;
      break;
    }
  }
  return std::nullopt;
}

/// Strain that a rate-sensitive sheet still takes at a rate that goes on falling by the same share.
double left_over(const Place& last, const Place& next, double h) {
  return next.rate * h / std::log(last.rate / next.rate);
}

/// The product with a strain is zero where minor = ratio * major. @param side  1 along rolling, -1 across
Vector3d off_path(double ratio, double side) {
  return {1 - ratio, -side * (1 + ratio), 0};
}

}  // namespace

StraightPath straight_path(const MovingYield& yield, double ratio, double along) {
  const double side = std::cos(2 * along);
  StraightPath path;
  path.along = along;
  path.ratio = ratio;
  const auto at = [&](double angle) {
    const Vector3d ray(std::cos(angle), std::sin(angle), 0);
    path.stress = ray / equivalent(yield, ray);
    path.flow = normal_at(yield, path.stress).gradient;
    return off_path(ratio, side).dot(path.flow);
  };
  // The normal turns one way with the stress on a convex surface, and lies within a right angle of it.
  const double sought = std::atan2(side * (1 - ratio), 1 + ratio);
  double low = sought - std::numbers::pi / 2;
  double high = sought + std::numbers::pi / 2;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (side * at(middle) > 0 ? low : high) = middle;
  }
  path.major = path.flow[0] + side * path.flow[1];
  return path;
}

std::optional<double> groove_limit(const GrooveMetal& metal, const StraightPath& path, const Groove& groove,
                                   const GrooveSteps& steps) {
  constexpr double kFirst = 1.0 / 256;  // of a step: hardening is steepest at the start
  constexpr double kGrowth = 1.4;
  constexpr double kShortest = 1e-6;
  const GrooveWalk walk(metal, path, groove.turn);
  const bool rate_sensitive = metal.rate_exponent > 0;
  Place last;
  last.thickness = std::log1p(-groove.imperfection);
  last.rate = 1;
  Place before = last;
  double h = kFirst * steps.length;
  bool rests = !rate_sensitive;  // a rate-sensitive sheet flows under any stress, if slowly
  while (last.inside < steps.farthest && last.outside < steps.enough) {
    const auto shorten = [&] { return (h *= 0.5) >= kShortest * steps.length; };
    std::optional<Place> next;
    if (rests) {
      next = walk.step(last, before, h, Sought::stress);
      if (next && !(walk.stress_share(*next) < 1)) next.reset();
    }
    const bool rested = next.has_value();
    if (!rested) next = walk.step(last, before, h, walk.flowing());
    if (!next) {
      if (!shorten()) return std::nullopt;
      continue;
    }
    if (next->rate <= steps.taken) {
      if (walk.strength(*next) < walk.strength(last)) {
        if (rate_sensitive && next->rate < last.rate) return next->outside + left_over(last, *next, h);
        if (!rate_sensitive && next->rate >= 0) return next->outside;
        if (!rate_sensitive) return last.outside + 0.5 * last.rate * last.rate / (last.rate - next->rate) * h;
      }
      if (next->rate < 0) {  // the groove still gains strength: the sheet pauses
        if (rests && !shorten()) return std::nullopt;
        rests = true;
        continue;
      }
    }
    rests = rested;
    before = last;
    last = *next;
    h = std::min(kGrowth * h, std::max(steps.length, steps.share * last.inside));
  }
  return last.outside;
}

}  // namespace halftool::solver
