#include "tests/verification/bulge_path.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/stepping/increment.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kFirstMotion = 0.05;  // of the first increment, over the thickness
constexpr int kMostCuts = 12;

mesh::Blank clamped_disc(const FreeBulge& setup) {
  mesh::Blank blank = blank_of(mapped(disc(1, setup.rings, Disorder{setup.seed}),
                                      [&](const Eigen::Vector3d& x) -> Eigen::Vector3d {
                                        return {setup.semi_axes.x() * x.x(), setup.semi_axes.y() * x.y(), 0};
                                      }),
                               setup.thickness);
  clamp_border(blank, [](int) { return true; });
  return blank;
}

/// Leads the sheet by the volume of fluid that it displaces.
class VolumeLedSheet {
 public:
  VolumeLedSheet(const solver::SheetModel& model, double largest_motion)
      : model_(model),
        largest_motion_(largest_motion),
        solver_(model, settings(), record_),
        state_(solver::initial_state(model)),
        change_(Eigen::VectorXd::Zero(model.equations.count)) {
    gradient_ = solver_.evaluate(state_, state_.place, loading(0), false).pressure_force;
    const Eigen::VectorXd response = solver_.response_to_pressure(state_, loading(0));
    const double pressure =
        kFirstMotion * model.blank.thickness / solver::largest_motion(response, model.equations);
    step_ = pressure * gradient_.dot(response);
  }

  /// Takes one increment.
  void grow() {
    for (int cuts = 0; cuts < kMostCuts; ++cuts) {
      const solver::IncrementResult found = increment();
      const Eigen::VectorXd change = solver::difference(found.place, state_.place, model_.equations);
      const double motion = solver::largest_motion(change, model_.equations);
      if (found.converged && motion < 1.3 * largest_motion_) {
        taken_ = found.volume;
        pressure_change_ = found.pressure - state_.pressure;
        change_ = change;
        step_ = taken_ * std::clamp(largest_motion_ / motion, 0.5, 1.5);
        before_ = std::move(state_);
        state_ = solver::accept(model_, before_, found.place, found.balance, found.pressure);
        gradient_ = found.balance.pressure_force;
        return;
      }
      step_ *= 0.5;
    }
    throw std::runtime_error("no equilibrium beyond " + std::to_string(state_.pressure) + " MPa");
  }

  [[nodiscard]] const solver::SheetState& state() const { return state_; }
  /// The state before that.
  [[nodiscard]] const solver::SheetState& before() const { return before_; }

 private:
  static solver::SolverSettings settings() {
    solver::SolverSettings settings;
    settings.threads = 1;
    return settings;
  }
  static solver::Loading loading(double pressure) {
    solver::Loading loading;
    loading.pressure = loading.normal_pressure = pressure;
    return loading;
  }
  solver::IncrementResult increment() {
    const double ahead = taken_ > 0 ? step_ / taken_ : 0;
    const solver::Guess guess{solver::moved(state_.place, model_.equations, ahead * change_),
                              std::max(0.0, state_.pressure + ahead * pressure_change_)};
    solver::Tolerances tolerances;
    tolerances.force = 1e-5;
    tolerances.motion = 1e-3 * largest_motion_;
    tolerances.least_pressure = 1e-2;
    return solver_.solve(state_, guess, loading(guess.pressure), {solver::Control::Kind::volume, step_},
                         gradient_, tolerances);
  }

  const solver::SheetModel& model_;
  double largest_motion_;
  solver::RunRecord record_;
  solver::IncrementSolver solver_;
  solver::SheetState state_;
  solver::SheetState before_;
  Eigen::VectorXd gradient_;
  Eigen::VectorXd change_;
  double pressure_change_ = 0;
  double taken_ = 0;  // volume of the last increment [mm3]
  double step_ = 0;   // of the next
};

std::vector<Eigen::Vector2d> thickness_profile(const FreeBulge& setup, const solver::SheetModel& model,
                                               const solver::SheetState& state) {
  std::vector<Eigen::Vector2d> profile;
  const mesh::SurfaceMesh& flat = model.blank.mesh;
  for (int t = 0; t < flat.n_triangles(); ++t) {
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();
    for (int i = 0; i < 3; ++i)
      centre += flat.nodes.row(flat.triangles(t, i)).head<2>().transpose().cwiseQuotient(setup.semi_axes) / 3;
    profile.emplace_back(centre.norm(), -state.memory[t].thickness_strain);
  }
  return profile;
}

/// Place and height of the top of the parabola through three points.
Eigen::Vector2d top_of(const Eigen::Vector2d& a, const Eigen::Vector2d& b, const Eigen::Vector2d& c) {
  const double left = (b.y() - a.y()) / (b.x() - a.x());
  const double right = (c.y() - b.y()) / (c.x() - b.x());
  const double bend = (right - left) / (c.x() - a.x());
  const double x = 0.5 * (a.x() + b.x()) - left / (2 * bend);
  return {x, a.y() + left * (x - a.x()) + bend * (x - a.x()) * (x - b.x())};
}

Eigen::Vector2d in_plane(const BulgePoint& point) {
  return {-point.pole.thickness_strain, point.pressure};
}

}  // namespace

BulgePath bulge_freely(const FreeBulge& setup) {
  const mesh::Blank blank = clamped_disc(setup);
  const solver::SheetModel model = solver::make_model(blank, setup.material, 5, true);
  VolumeLedSheet sheet(model, setup.largest_motion);
  BulgePath path;
  double strain = 0;
  while (strain < setup.last_thickness_strain) {
    try {
      sheet.grow();
    } catch (const std::runtime_error& error) {
      path.broken_off = error.what();
      break;
    }
    BulgePoint point;
    point.pressure = sheet.state().pressure;
    point.height = -sheet.state().place.positions.col(2).minCoeff();
    point.pole = pole_of(model, sheet.state(), setup.semi_axes);
    point.cap_balance = cap_balance(model, sheet.before(), sheet.state(), setup.semi_axes);
    strain = -point.pole.thickness_strain;
    const int here = static_cast<int>(path.points.size());
    if (path.points.empty() || point.pressure > path.points[path.greatest].pressure) {
      if (!path.points.empty()) path.points[path.greatest].profile.clear();
      point.profile = thickness_profile(setup, model, sheet.state());
      path.greatest = here;
    }
    path.points.push_back(std::move(point));
  }
  const int top = path.greatest;
  if (top > 0 && top + 1 < static_cast<int>(path.points.size()))
    path.summit =
        top_of(in_plane(path.points[top - 1]), in_plane(path.points[top]), in_plane(path.points[top + 1]));
  return path;
}

double hill_thickness_strain(double height_ratio, double place) {
  const double square = height_ratio * height_ratio;
  return 2 * std::log((1 + square) / (1 + place * place * square));
}

double hill_height(double pole_strain) {
  return std::sqrt(std::exp(0.5 * pole_strain) - 1);
}

double hill_pressure(double height_ratio) {
  return 4 * height_ratio / std::pow(1 + height_ratio * height_ratio, 3);
}

double hill_summit(const solver::SwiftHardening& law) {
  const auto pressure = [&](double strain) {
    return std::pow(law.pre_strain + strain, law.exponent) * hill_pressure(hill_height(strain));
  };
  double low = 0.01, high = 2;
  for (int i = 0; i < 100; ++i) {
    const double a = low + (high - low) / 3, b = high - (high - low) / 3;
    (pressure(a) < pressure(b) ? low : high) = pressure(a) < pressure(b) ? a : b;
  }
  return 0.5 * (low + high);
}

}  // namespace halftool::test
