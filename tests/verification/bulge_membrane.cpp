#include "tests/verification/bulge_membrane.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::test {
namespace {

constexpr int kSteps = 400;

/// Forces per length along the meridian and the hoop, over K t0.
struct Forces {
  double along, hoop;
};

class Membrane {
 public:
  explicit Membrane(const solver::SwiftHardening& law) : law_(law) {}

  [[nodiscard]] Forces forces(double along, double hoop) const {
    const double size = std::sqrt(4.0 / 3 * (along * along + along * hoop + hoop * hoop));
    const double secant = 4.0 / 3 * std::pow(law_.pre_strain + size, law_.exponent) / size;
    const double thinning = std::exp(-along - hoop);
    const double s1 = secant * (along + 0.5 * hoop), s2 = secant * (hoop + 0.5 * along);
    return {s1 * thinning, s2 * thinning};
  }

  /// State along the meridian: r/a and the force along it. Place and stretch of the meridian follow.
  struct Slope {
    double r, force, z;
  };
  [[nodiscard]] Slope slope(double q, double r, double force, double pressure, double& along) const {
    const double hoop = std::log(r / q);
    along = strain_of(force, hoop, along);
    const double sine = std::min(1.0, pressure * r / (2 * force));
    const double stretched = std::exp(along) * std::sqrt(1 - sine * sine);
    return {stretched, (forces(along, hoop).hoop - force) * stretched / r, std::exp(along) * sine};
  }

 private:
  /// The strain that carries a force: Newton from the neighbour's, on the branch that it lies on.
  [[nodiscard]] double strain_of(double force, double hoop, double along) const {
    for (int i = 0; i < 30; ++i) {
      constexpr double kStep = 1e-6;
      const double here = forces(along, hoop).along;
      const double rate =
          (forces(along + kStep, hoop).along - forces(along - kStep, hoop).along) / (2 * kStep);
      const double change = std::clamp((force - here) / rate, -0.05, 0.05);
      along += change;
      if (std::abs(change) < 1e-12) break;
    }
    return along;
  }

  solver::SwiftHardening law_;
};

/// Integrates to the rim under a pressure; fills the profile. @return r/a there, less 1
double reach(const Membrane& membrane, double pressure, MembraneBulge& bulge) {
  const double stretch = 0.5 * bulge.pole_strain;
  const double h = 1.0 / kSteps;
  // The first step is that of a patch of uniform stretch.
  double q = h, r = h * std::exp(stretch), force = membrane.forces(stretch, stretch).along;
  double z = 0.5 * r * r * pressure / (2 * force), along = stretch;
  bulge.profile = {{0, bulge.pole_strain}, {q, bulge.pole_strain}};
  for (int i = 1; i < kSteps; ++i) {
    const auto k1 = membrane.slope(q, r, force, pressure, along);
    const auto k2 = membrane.slope(q + h / 2, r + h / 2 * k1.r, force + h / 2 * k1.force, pressure, along);
    const auto k3 = membrane.slope(q + h / 2, r + h / 2 * k2.r, force + h / 2 * k2.force, pressure, along);
    const auto k4 = membrane.slope(q + h, r + h * k3.r, force + h * k3.force, pressure, along);
    r += h / 6 * (k1.r + 2 * k2.r + 2 * k3.r + k4.r);
    force += h / 6 * (k1.force + 2 * k2.force + 2 * k3.force + k4.force);
    z += h / 6 * (k1.z + 2 * k2.z + 2 * k3.z + k4.z);
    q += h;
    static_cast<void>(membrane.slope(q, r, force, pressure, along));  // for the strain
    bulge.profile.emplace_back(q, along + std::log(r / q));
  }
  bulge.pressure = pressure;
  bulge.height = z;
  return r - 1;
}

}  // namespace

MembraneBulge bulge_membrane(const solver::SwiftHardening& law, double pole_strain) {
  const Membrane membrane(law);
  MembraneBulge bulge;
  bulge.pole_strain = pole_strain;
  const double force = membrane.forces(0.5 * pole_strain, 0.5 * pole_strain).along;
  double low = 0, high = 3 * force;  // too low a pressure leaves the rim too wide
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (low + high);
    (reach(membrane, middle, bulge) > 0 ? low : high) = middle;
  }
  return bulge;
}

}  // namespace halftool::test
