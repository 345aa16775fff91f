#include "tests/support/fibre_bending.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "solver/assessment/bracketed_secant.hpp"

namespace halftool::test {
namespace {

struct Pair {
  double x = 0, y = 0;
  Pair operator+(const Pair& o) const { return {x + o.x, y + o.y}; }
  Pair operator-(const Pair& o) const { return {x - o.x, y - o.y}; }
  Pair operator*(double f) const { return {x * f, y * f}; }
};

double square(const Pair& s) {
  return s.x * s.x - s.x * s.y + s.y * s.y;
}

/// Terms of backstress, relative to their own normal stress.
using Backs = std::array<Pair, solver::kMostBackstressTerms>;

/// One fibre: longitudinal strain and stress, width stress (width strain zero), prescribed normal stress.
struct Fibre {
  double strain = 0;
  double along = 0, across = 0;  // [MPa]
  double normal = 0;             // [MPa]
  double equivalent = 0;         // equivalent plastic strain
  Backs backs = {};
};

/// The rate equations of one fibre. Stress is taken relative to the normal stress: yield sees only that.
class FibreLaw {
 public:
  FibreLaw(const solver::SheetMaterial& material, double substep)
      : hardening_(material.hardening),
        terms_(material.backstress),
        young_(material.youngs_modulus),
        nu_(material.poissons_ratio),
        plate_(young_ / (1 - nu_ * nu_)),
        substep_(substep) {}

  /// Carries the fibre to a new strain and normal stress along the straight path.
  void advance(Fibre& fibre, double strain, double normal) const {
    const double d_strain = strain - fibre.strain;
    const double d_normal = normal - fibre.normal;
    const double shift = (nu_ / (1 - nu_) - 1) * d_normal;
    const Pair drive{plate_ * d_strain + shift, nu_ * plate_ * d_strain + shift};
    State state{{fibre.along - fibre.normal, fibre.across - fibre.normal}, fibre.equivalent, fibre.backs};
    const double start = share_to_yield(state.relative(), drive, fibre.equivalent);
    state.stress = state.stress + drive * start;
    if (start < 1) flow(state, drive, 1 - start);
    fibre = {strain, state.stress.x + normal, state.stress.y + normal, normal, state.equivalent, state.backs};
  }

  /// Through-thickness strain: elastic, and plastic by incompressibility.
  [[nodiscard]] double thickness_strain(const Fibre& f) const {
    const double plastic_along = f.strain - (f.along - nu_ * (f.across + f.normal)) / young_;
    const double plastic_across = -(f.across - nu_ * (f.along + f.normal)) / young_;
    return (f.normal - nu_ * (f.along + f.across)) / young_ - plastic_along - plastic_across;
  }

  [[nodiscard]] double plate_modulus() const { return plate_; }

 private:
  solver::Hardening hardening_;
  std::vector<solver::BackstressTerm> terms_;
  double young_, nu_, plate_, substep_;

  /// Share of the drive that is elastic: 1 if yield is not reached.
  [[nodiscard]] double share_to_yield(const Pair& stress, const Pair& drive, double equivalent) const {
    const double yield = solver::flow_stress(hardening_, equivalent).stress;
    if (square(stress + drive) <= yield * yield) return 1;
    const double c = std::min(0.0, square(stress) - yield * yield);
    const double a = square(drive);
    const double b =
        2 * stress.x * drive.x - stress.x * drive.y - stress.y * drive.x + 2 * stress.y * drive.y;
    if (a == 0) return 1;
    return std::clamp((-b + std::sqrt(b * b - 4 * a * c)) / (2 * a), 0.0, 1.0);
  }

  /// What changes along a path, and its rates.
  struct State {
    Pair stress;
    double equivalent = 0;
    Backs backs = {};

    [[nodiscard]] Pair centre() const { return backs[0] + backs[1] + backs[2]; }
    [[nodiscard]] Pair relative() const { return stress - centre(); }
    State operator+(const State& o) const {
      State sum{stress + o.stress, equivalent + o.equivalent};
      for (std::size_t i = 0; i < backs.size(); ++i) sum.backs[i] = backs[i] + o.backs[i];
      return sum;
    }
    State operator*(double f) const {
      State product{stress * f, equivalent * f};
      for (std::size_t i = 0; i < backs.size(); ++i) product.backs[i] = backs[i] * f;
      return product;
    }
  };

  [[nodiscard]] State rate(const State& at, const Pair& drive) const {
    const Pair relative = at.relative();
    const double size = std::sqrt(square(relative));
    const Pair n{(2 * relative.x - relative.y) / (2 * size), (2 * relative.y - relative.x) / (2 * size)};
    const Pair elastic_n{plate_ * (n.x + nu_ * n.y), plate_ * (n.y + nu_ * n.x)};
    double slope = solver::flow_stress(hardening_, at.equivalent).slope;
    Backs moves = {};
    for (std::size_t i = 0; i < terms_.size(); ++i) {
      moves[i] = relative * (terms_[i].modulus / size) - at.backs[i] * terms_[i].rate;
      slope += n.x * moves[i].x + n.y * moves[i].y;
    }
    const double multiplier =
        std::max(0.0, (n.x * drive.x + n.y * drive.y) / (slope + n.x * elastic_n.x + n.y * elastic_n.y));
    State change{drive + elastic_n * -multiplier, multiplier};
    for (std::size_t i = 0; i < terms_.size(); ++i) change.backs[i] = moves[i] * multiplier;
    return change;
  }

  void flow(State& at, const Pair& drive, double share) const {
    const double size =
        share * std::sqrt(square(drive)) / solver::flow_stress(hardening_, at.equivalent).stress;
    const int n = std::max(1, static_cast<int>(std::ceil(size / substep_)));
    const Pair part = drive * (share / n);
    for (int i = 0; i < n; ++i) {
      const State k1 = rate(at, part);
      const State k2 = rate(at + k1 * 0.5, part);
      const State k3 = rate(at + k2 * 0.5, part);
      const State k4 = rate(at + k3, part);
      at = at + (k1 + k2 * 2 + k3 * 2 + k4) * (1.0 / 6);
      const Pair relative = at.relative();
      const double over = solver::flow_stress(hardening_, at.equivalent).stress / std::sqrt(square(relative));
      at.stress = at.centre() + relative * over;
    }
  }
};

/// Shape of the bent section and what it carries.
struct Shape {
  double mid = 1;   // stretch of the mid-surface (linear strain: 1 + e0)
  double turn = 0;  // rotation per reference length [1/mm]
};
struct Load {
  double force = 0, moment = 0, thickness = 0;
};

/// The two Gauss points of each of n/2 equal cells.
std::vector<FibrePlace> paired_fibres(int n) {
  std::vector<FibrePlace> places(n);
  for (int i = 0; i < n; ++i) {
    const double offset = (i % 2 == 0 ? -0.5 : 0.5) / std::sqrt(3.0);
    places[i] = {(i / 2 + 0.5 + offset) * 2.0 / n - 0.5, 1.0 / n};
  }
  return places;
}

class FibreStack {
 public:
  explicit FibreStack(const FibreBend& bend)
      : bend_(bend),
        law_(bend.material, bend.substep),
        thickness_(bend.thickness),
        places_(bend.fibres.empty() ? paired_fibres(bend.n_fibres) : bend.fibres),
        fibres_(places_.size()) {}

  /// Load after going from the accepted state to a shape under a share of the pressures; accepts it if asked.
  Load go(const Shape& shape, double pressure_share, double thickness, bool accept) {
    const double t0 = bend_.thickness;
    const bool linear = bend_.strain == FibreStrain::linear;
    Load load;
    double thinning = 0;
    for (std::size_t i = 0; i < fibres_.size(); ++i) {
      const auto [zeta, weight] = places_[i];
      const double z = zeta * (linear ? t0 : thickness);
      const double stretch = shape.mid + shape.turn * z;
      const double normal =
          -pressure_share * ((0.5 + zeta) * bend_.outer_pressure + (0.5 - zeta) * bend_.inner_pressure);
      Fibre fibre = fibres_[i];
      law_.advance(fibre, linear ? stretch - 1 : std::log(stretch), normal);
      const double nominal = fibre.along / (linear ? 1 : stretch);  // work conjugate of the stretch
      load.force += nominal * t0 * weight;
      load.moment += nominal * z * t0 * weight;
      thinning += law_.thickness_strain(fibre) * weight;
      if (accept) fibres_[i] = fibre;
    }
    load.thickness = linear ? t0 : t0 * std::exp(thinning);
    if (accept) thickness_ = load.thickness;
    return load;
  }

  /// Net force in balance at a curvature of the mid-surface: secant on its stretch, thickness following.
  Shape balance_at_curvature(double curvature, double pressure_share, const Shape& last, double force_scale) {
    double thickness = thickness_;
    const bool linear = bend_.strain == FibreStrain::linear;
    const auto shape_of = [&](double mid) { return Shape{mid, curvature * (linear ? 1 : mid)}; };
    double mid = last.mid;
    solver::BracketedSecant search(law_.plate_modulus() * bend_.thickness, 0.01);
    for (int iteration = 0; iteration < 100; ++iteration) {
      const Load load = go(shape_of(mid), pressure_share, thickness, false);
      const bool settled = std::abs(load.thickness - thickness) < 1e-12 * thickness;
      thickness = load.thickness;
      const double net_force = load.force - bend_.tension;
      if (settled && std::abs(net_force) < 1e-10 * force_scale) {
        go(shape_of(mid), pressure_share, thickness, true);
        return shape_of(mid);
      }
      mid = search.next(mid, net_force);
    }
    throw std::runtime_error("fibre bending: no balance at curvature " + std::to_string(curvature));
  }

  /// A given moment and a share of tension and pressures, from a state that unloads: fixed-point steps with
  /// the elastic plate.
  Shape balance_at_moment(double moment, double load_share, Shape shape, double force_scale) {
    double thickness = thickness_;
    const double t = bend_.thickness;
    for (int iteration = 0; iteration < 1000; ++iteration) {
      const Load load = go(shape, load_share, thickness, false);
      const double net_force = load.force - load_share * bend_.tension;
      const bool settled = std::abs(load.thickness - thickness) < 1e-12 * thickness;
      thickness = load.thickness;
      if (settled && std::abs(net_force) < 1e-10 * force_scale &&
          std::abs(load.moment - moment) < 1e-10 * force_scale * t) {
        go(shape, load_share, thickness, true);
        return shape;
      }
      shape.mid -= net_force / (law_.plate_modulus() * t);
      shape.turn -= (load.moment - moment) / (law_.plate_modulus() * t * t * t / 12);
    }
    throw std::runtime_error("fibre bending: no balance in the release");
  }

  [[nodiscard]] double thickness() const { return thickness_; }
  [[nodiscard]] double plate_modulus() const { return law_.plate_modulus(); }

 private:
  FibreBend bend_;
  FibreLaw law_;
  double thickness_;
  std::vector<FibrePlace> places_;
  std::vector<Fibre> fibres_;
};

}  // namespace

FibreBendResult bend_and_release(const FibreBend& bend) {
  FibreStack stack(bend);
  const double force_scale = bend.thickness * solver::flow_stress(bend.material.hardening, 0).stress;
  Shape shape;
  if (bend.tension != 0) shape = stack.balance_at_curvature(0, 0, shape, force_scale);
  for (int step = 1; step <= bend.n_steps; ++step) {
    const double share = static_cast<double>(step) / bend.n_steps;
    const double pressure_share = bend.pressure_after_bend ? 0 : share;
    shape = stack.balance_at_curvature(share / bend.radius, pressure_share, shape, force_scale);
  }
  for (int step = 1; step <= bend.n_steps && bend.pressure_after_bend; ++step) {
    const double share = static_cast<double>(step) / bend.n_steps;
    shape = stack.balance_at_curvature(1 / bend.radius, share, shape, force_scale);
  }
  for (int step = 1; step <= bend.n_steps && bend.straightened; ++step) {
    const double share = 1 - static_cast<double>(step) / bend.n_steps;
    shape = stack.balance_at_curvature(share / bend.radius, 0, shape, force_scale);
  }
  for (int step = 1; step <= bend.n_steps && bend.bent_again; ++step) {
    const double share = static_cast<double>(step) / bend.n_steps;
    shape = stack.balance_at_curvature(share / bend.radius, 0, shape, force_scale);
  }
  const bool flat = bend.straightened && !bend.bent_again;
  FibreBendResult result;
  result.thickness = stack.thickness();
  result.mid_stretch = shape.mid;
  result.turn = shape.turn;
  result.moment = stack.go(shape, 1, stack.thickness(), false).moment;
  if (!flat)
    result.elastic_springback =
        12 * result.moment / (stack.plate_modulus() * std::pow(bend.thickness, 3) * result.turn);
  constexpr int kReleaseSteps = 10;
  for (int step = 1; step <= kReleaseSteps; ++step) {
    const double share = 1 - static_cast<double>(step) / kReleaseSteps;
    shape = stack.balance_at_moment(share * result.moment, share, shape, force_scale);
  }
  result.released_turn = shape.turn;
  if (!flat) result.springback = 1 - result.released_turn / result.turn;
  return result;
}

}  // namespace halftool::test
