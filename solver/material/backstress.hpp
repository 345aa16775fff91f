#pragma once
#include <Eigen/Core>
#include <array>
#include <cmath>
#include <vector>

#include "solver/material/hardening.hpp"
#include "solver/material/moving_yield.hpp"

namespace halftool::solver {

/// Up to three terms of backstress, those that move nothing left out.
struct BackstressTerms {
  std::array<BackstressTerm, kMostBackstressTerms> term;
  int count = 0;

  BackstressTerms() = default;
  explicit BackstressTerms(const std::vector<BackstressTerm>& terms) {
    for (const BackstressTerm& one : terms)
      if (one.modulus > 0) term[static_cast<std::size_t>(count++)] = one;
  }
  /// Centre of the yield surface. @param state  3 values a term
  [[nodiscard]] Eigen::Vector3d centre(const double* state) const {
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (int i = 0; i < count; ++i) sum += Eigen::Map<const Eigen::Vector3d>(state + 3 * i);
    return sum;
  }
};

/// Backstress over a curve of isotropic hardening: d b = (C e - gamma b) d eps_p for each term, the size of
/// the yield surface follows the curve. Under von Mises C e is 2/3 C times the plastic strain rate over d
/// eps_p, the rule of Frederick and Armstrong; under other yield conditions the direction is that of the
/// stress relative to the centre (Ziegler 1959; Chung and others, Int. J. Plast. 21 (2005) 861-882), so that
/// the curve in tension is the same in all directions, over the yield stress. Integrated exactly for a
/// constant direction: one step of a proportional path is as good as many, and nothing overshoots.
///
/// State: 3 values a term.
template <class Curve>
class BackstressLaw {
 public:
  BackstressLaw(const BackstressTerms& terms, const Curve& curve) : terms_(terms), curve_(curve) {}

  [[nodiscard]] int n_values() const { return 3 * terms_.count; }
  [[nodiscard]] Eigen::Vector3d centre(const double* state) const { return terms_.centre(state); }
  [[nodiscard]] double yield_size(double equivalent_plastic_strain) const {
    return flow_stress(curve_, equivalent_plastic_strain).stress;
  }

  /// @param committed  equivalent plastic strain, and
  /// @param state      of the last accepted increment
  template <class Yield>
  [[nodiscard]] HardenedStress at(const Yield& /*any*/, double committed, const double* state,
                                  const Eigen::Vector3d& e, double g) const {
    const FlowStress flow = flow_stress(curve_, committed + g);
    double size = flow.stress;
    double slope = flow.slope;
    Eigen::Vector3d carried = Eigen::Vector3d::Zero();
    Eigen::Vector3d fading = Eigen::Vector3d::Zero();
    for (int i = 0; i < terms_.count; ++i) {
      const BackstressTerm& term = terms_.term[static_cast<std::size_t>(i)];
      const Decay decay(term, g);
      const Eigen::Map<const Eigen::Vector3d> b(state + 3 * i);
      size += term.modulus * decay.come;
      slope += term.modulus * decay.left;
      carried += decay.left * b;
      fading += (term.rate * decay.left) * b;
    }
    return {size * e + carried, size * Eigen::Matrix3d::Identity(), slope * e - fading};
  }

  /// State after the increment.
  template <class Yield>
  void carry(const Yield& /*any*/, const double* state, const Eigen::Vector3d& e, double g,
             double* next) const {
    for (int i = 0; i < terms_.count; ++i) {
      const BackstressTerm& term = terms_.term[static_cast<std::size_t>(i)];
      const Decay decay(term, g);
      Eigen::Map<Eigen::Vector3d>(next + 3 * i) =
          decay.left * Eigen::Map<const Eigen::Vector3d>(state + 3 * i) + (term.modulus * decay.come) * e;
    }
  }

 private:
  const BackstressTerms& terms_;
  const Curve& curve_;

  /// How much of a term is left after g, and how much of C e has come.
  struct Decay {
    double left, come;
    Decay(const BackstressTerm& term, double g)
        : left(std::exp(-term.rate * g)), come(term.rate > 0 ? (1 - left) / term.rate : g) {}
  };
};

}  // namespace halftool::solver
