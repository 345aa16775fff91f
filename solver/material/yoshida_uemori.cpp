#include "solver/material/yoshida_uemori.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <unsupported/Eigen/AutoDiff>

namespace halftool::solver {
namespace {

using Eigen::Vector3d;
using Map = Eigen::Map<const Vector3d>;

// A direction e enters by square forms with committed values only. What the law depends on: g, a.e, beta.e
// and q.e, the dot being the form of the yield condition; e.e counts as 1, which it is at the answer and
// stays along the yield surface.
constexpr int kNumbers = 4;
enum Entry { multiplier, near_e, bound_e, rest_e };
template <class Number>
using Numbers = std::array<Number, kNumbers>;

/// The committed state and its forms.
struct Start {
  Vector3d near, bound, rest;  // a, beta, q
  double radius, gain;         // r, R
  Vector3d form_near, form_bound, form_rest;
  double near_near, bound_bound, bound_rest, rest_rest;

  Start(const QuadraticYield& yield, const double* state)
      : near(Map(state)),
        bound(Map(state + 3)),
        rest(Map(state + 6)),
        radius(state[9]),
        gain(state[10]),
        form_near(yield.form() * near),
        form_bound(yield.form() * bound),
        form_rest(yield.form() * rest),
        near_near(near.dot(form_near)),
        bound_bound(bound.dot(form_bound)),
        bound_rest(bound.dot(form_rest)),
        rest_rest(rest.dot(form_rest)) {}

  [[nodiscard]] Numbers<double> numbers(const Vector3d& e, double g) const {
    return {g, form_near.dot(e), form_bound.dot(e), form_rest.dot(e)};
  }
};

/// A vector left times a committed one plus come times e.
template <class Number>
struct Mix {
  Number left, come;
};

/// What the increment makes of the committed state.
template <class Number>
struct Motion {
  Mix<Number> near, bound;
  Number gain;  // R
};

/// Share of the straight way of beta on which it pushes at the surface of stagnation: beyond the last
/// crossing of |beta - q| = r. At g = 0 there is no way and it is 1.
template <class Number>
Number share_beyond(const Start& from, const Numbers<Number>& of, const Mix<Number>& bound) {
  using std::sqrt;
  const Number less = bound.left - 1.0;
  const Number way =
      less * less * from.bound_bound + bound.come * bound.come + 2.0 * less * bound.come * of[bound_e];
  const Number outward =
      less * (from.bound_bound - from.bound_rest) + bound.come * (of[bound_e] - of[rest_e]);
  const double before = from.bound_bound - 2 * from.bound_rest + from.rest_rest;
  const double inside = std::max(0.0, from.radius * from.radius - before);
  const Number square = outward * outward + inside * way;
  const Number root = square > 0.0 ? Number(sqrt(square)) : Number(0.0);
  if (!(way > 0.0)) return Number(1.0);
  const Number crossing = outward > 0.0 ? Number(inside / (outward + root)) : Number((root - outward) / way);
  if (!(crossing < 1.0)) return Number(0.0);
  return 1.0 - crossing;
}

/// R at the end.
template <class Number>
Number gain_after(const YoshidaUemoriHardening& law, const Start& from, const Numbers<Number>& of,
                  const Mix<Number>& bound) {
  using std::exp;
  const Number share = law.bound_shift > 0 ? share_beyond(from, of, bound) : Number(1.0);
  return law.bound_gain - (law.bound_gain - from.gain) * exp(-law.bound_rate * share * of[multiplier]);
}

/// One implicit step of a over C g = step, as a mix of the committed a and e.
/// @param root  of the room A
template <class Number>
void approach(const Start& from, const Numbers<Number>& of, const Number& room, const Number& root,
              const Number& step, Mix<Number>& near) {
  using std::sqrt;
  constexpr double rest = 1e-20;  // of the square of the room: keeps the root of nothing smooth
  near.come += step * room;
  const Number square = near.left * near.left * from.near_near + 2.0 * near.left * near.come * of[near_e] +
                        near.come * near.come + rest * room * room;
  const Number length = sqrt(square);
  const Number width = step * root;
  const Number end = 2.0 * length / (width + sqrt(width * width + 4.0 * length));  // root of |a| at the end
  const Number kept = end / (end + width);
  near.left *= kept;
  near.come *= kept;
}

template <class Number>
Motion<Number> motion(const YoshidaUemoriHardening& law, const Start& from, const Numbers<Number>& of) {
  using std::exp;
  using std::sqrt;
  Motion<Number> to;
  to.bound.left = exp(-law.bound_rate * of[multiplier]);
  to.bound.come = law.bound_shift * (1.0 - to.bound.left);
  to.gain = gain_after(law, from, of, to.bound);
  const Number room = law.bound - law.yield + to.gain;
  const Number root = sqrt(room);
  const Number step = law.approach * of[multiplier];
  Mix<Number> coarse{Number(1.0), Number(0.0)};
  Mix<Number> fine = coarse;
  const Number half = 0.5 * step;
  const Number quarter = 0.25 * step;
  for (int i = 0; i < 2; ++i) approach(from, of, room, root, half, coarse);
  for (int i = 0; i < 4; ++i) approach(from, of, room, root, quarter, fine);
  to.near.left = 2.0 * fine.left - coarse.left;
  to.near.come = 2.0 * fine.come - coarse.come;
  return to;
}

}  // namespace

HardenedStress YoshidaUemoriLaw::at(const QuadraticYield& yield, double /*committed*/, const double* state,
                                    const Vector3d& e, double g) const {
  using Number = Eigen::AutoDiffScalar<Eigen::Matrix<double, kNumbers, 1>>;
  const Start from(yield, state);
  const Numbers<double> values = from.numbers(e, g);
  Numbers<Number> of;
  for (int i = 0; i < kNumbers; ++i)
    of[static_cast<std::size_t>(i)] = Number(values[static_cast<std::size_t>(i)], kNumbers, i);
  const Motion<Number> to = motion(law_, from, of);
  const Number size = law_.yield + to.near.come + to.bound.come;

  const Eigen::Matrix<double, 3, kNumbers> by_numbers = e * size.derivatives().transpose() +
                                                        from.near * to.near.left.derivatives().transpose() +
                                                        from.bound * to.bound.left.derivatives().transpose();
  HardenedStress hardened;
  hardened.stress = size.value() * e + to.near.left.value() * from.near + to.bound.left.value() * from.bound;
  hardened.by_multiplier = by_numbers.col(multiplier);
  hardened.by_direction = by_numbers.col(near_e) * from.form_near.transpose() +
                          by_numbers.col(bound_e) * from.form_bound.transpose() +
                          by_numbers.col(rest_e) * from.form_rest.transpose();
  hardened.by_direction.diagonal().array() += size.value();
  return hardened;
}

void YoshidaUemoriLaw::carry(const QuadraticYield& yield, const double* state, const Vector3d& e, double g,
                             double* next) const {
  const Start from(yield, state);
  const Motion<double> to = motion(law_, from, from.numbers(e, g));
  const Vector3d bound = to.bound.left * from.bound + to.bound.come * e;
  const Vector3d away = bound - from.rest;
  const double distance = yield.equivalent(away);
  double radius = from.radius;
  Vector3d rest = from.rest;
  if (distance > radius) {
    radius += law_.stagnation * (distance - radius);
    rest = bound - (radius / distance) * away;
  }
  Eigen::Map<Vector3d>(next + 0) = to.near.left * from.near + to.near.come * e;
  Eigen::Map<Vector3d>(next + 3) = bound;
  Eigen::Map<Vector3d>(next + 6) = rest;
  next[9] = radius;
  next[10] = to.gain;
}

}  // namespace halftool::solver
