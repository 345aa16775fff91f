#include "tests/verification/point_plasticity.hpp"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <stdexcept>

#include "solver/material/yld2000_return.hpp"
#include "tests/support/reference_sheets.hpp"
#include "tests/support/yld2000_sheets.hpp"

namespace halftool::test {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using solver::HillConstants;
using solver::SheetMaterial;

const Vector3d kEqual(1, 1, 0);

/// x^T form x = sigma^2 for x = [s11 - s33, s22 - s33, s12].
Matrix3d yield_form(const HillConstants& c) {
  Matrix3d form;
  form << c.G + c.H, -c.H, 0, -c.H, c.F + c.H, 0, 0, 0, 2 * c.N;
  return form;
}

/// Equivalent stress of Yld2000-2d by principal values of the two linear transforms, the matrices L' and L''
/// as Barlat and others (2003) print them; for real or complex stress.
template <class Number>
Number yld2000_equivalent(const solver::Yld2000& yield, const std::array<Number, 3>& x) {
  const auto& a = yield.alpha;
  const double first[4] = {2 * a[0] / 3, -a[0] / 3, -a[1] / 3, 2 * a[1] / 3};
  const double second[4] = {
      (-2 * a[2] + 2 * a[3] + 8 * a[4] - 2 * a[5]) / 9, (a[2] - 4 * a[3] - 4 * a[4] + 4 * a[5]) / 9,
      (4 * a[2] - 4 * a[3] - 4 * a[4] + a[5]) / 9, (-2 * a[2] + 8 * a[3] + 2 * a[4] - 2 * a[5]) / 9};
  const auto principal = [&](const double* L, double shear) -> std::array<Number, 2> {
    const Number x11 = L[0] * x[0] + L[1] * x[1];
    const Number x22 = L[2] * x[0] + L[3] * x[1];
    const Number x12 = shear * x[2];
    const Number radius = std::sqrt(0.25 * (x11 - x22) * (x11 - x22) + x12 * x12);
    return {0.5 * (x11 + x22) + radius, 0.5 * (x11 + x22) - radius};
  };
  const auto power = [&](const Number& v) -> Number { return std::pow(v * v, 0.5 * yield.exponent); };
  const auto [p1, p2] = principal(first, a[6]);
  const auto [q1, q2] = principal(second, a[7]);
  const Number sum = power(p1 - p2) + power(2.0 * q2 + q1) + power(2.0 * q1 + q2);
  return std::pow(0.5 * sum, 1 / yield.exponent);
}

/// The yield condition of a sheet for x = [s11 - s33, s22 - s33, s12]; shares no code with the solver's.
class YieldSurface {
 public:
  explicit YieldSurface(const PointSheet& sheet)
      : yield_(sheet.material.yield), form_(yield_form(sheet.constants())) {}

  [[nodiscard]] double equivalent(const Vector3d& x) const {
    if (const auto* yld = std::get_if<solver::Yld2000>(&yield_))
      return yld2000_equivalent<double>(*yld, {x[0], x[1], x[2]});
    return std::sqrt(x.dot(form_ * x));
  }
  /// Along the direction of plastic flow [11, 22, 2*12]; its size is right where the equivalent stress is 1.
  [[nodiscard]] Vector3d flow(const Vector3d& x) const {
    if (const auto* yld = std::get_if<solver::Yld2000>(&yield_)) return yld2000_gradient(*yld, x);
    return form_ * x;
  }
  [[nodiscard]] Vector3d normal(const Vector3d& x) const {
    if (std::holds_alternative<solver::Yld2000>(yield_)) return flow(x);
    return form_ * x / equivalent(x);
  }

 private:
  solver::YieldCondition yield_;
  Matrix3d form_;

  /// By complex steps, exact to rounding.
  static Vector3d yld2000_gradient(const solver::Yld2000& yield, const Vector3d& x) {
    const double step = 1e-30 * x.norm();
    Vector3d gradient;
    for (int i = 0; i < 3; ++i) {
      std::array<std::complex<double>, 3> shifted = {x[0], x[1], x[2]};
      shifted[i] += std::complex<double>(0, step);
      gradient[i] = yld2000_equivalent(yield, shifted).imag() / step;
    }
    return gradient;
  }
};

/// s22/s11 at which nothing flows across.
double width_share(const PointSheet& sheet) {
  const HillConstants c = sheet.constants();
  if (!std::holds_alternative<solver::Yld2000>(sheet.material.yield)) return c.H / (c.F + c.H);
  const YieldSurface surface(sheet);
  double low = 0;
  double high = 1;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (surface.flow({1, middle, 0})[1] < 0 ? low : high) = middle;
  }
  return low;
}

/// Three-dimensional Hooke, in-plane part [11, 22, 2*12].
Vector3d hooke(const SheetMaterial& m, const Vector3d& s, double s33) {
  const double nu = m.poissons_ratio;
  return Vector3d(s[0] - nu * (s[1] + s33), s[1] - nu * (s[0] + s33), 2 * (1 + nu) * s[2]) / m.youngs_modulus;
}

Matrix3d plane_stiffness(const SheetMaterial& m) {
  const double nu = m.poissons_ratio;
  Matrix3d stiffness;
  stiffness << 1, nu, 0, nu, 1, 0, 0, 0, 0.5 * (1 - nu);
  return m.youngs_modulus / (1 - nu * nu) * stiffness;
}

SheetMaterial with_yield(SheetMaterial material, const solver::YieldCondition& yield) {
  material.yield = yield;
  return material;
}

/// The solver's stress update of a sheet, whatever its yield condition, in Voigt components.
class Update {
 public:
  explicit Update(const SheetMaterial& material)
      : material_(material), moduli_(material.youngs_modulus, material.poissons_ratio) {}

  /// Goes from an accepted point to a total strain; writes everything but the work.
  void go(const PointEnd& from, const Vector3d& strain, double s33, PointEnd& to, Matrix3d& tangent) const {
    if (const auto* r = std::get_if<solver::RValues>(&material_.yield))
      go_with(solver::HillPlane(moduli_, HillConstants(*r)), from, strain, s33, to, tangent);
    else if (const auto* yld = std::get_if<solver::Yld2000>(&material_.yield))
      go_with(solver::YldPlane(moduli_, *yld), from, strain, s33, to, tangent);
    else
      go_with(moduli_, from, strain, s33, to, tangent);
  }

 private:
  SheetMaterial material_;
  solver::PlaneModuli moduli_;

  template <class Yield>
  void go_with(const Yield& yield, const PointEnd& from, const Vector3d& strain, double s33, PointEnd& to,
               Matrix3d& tangent) const {
    typename solver::PointOf<Yield>::type point;
    const Vector3d coordinates = solver::strain_coordinates(strain);
    const auto update = [&](const auto& curve) {
      if (!solver::update_stress(yield, curve, coordinates, solver::strain_coordinates(from.plastic),
                                 from.equivalent, s33, point))
        throw std::runtime_error("point plasticity: no stress");
      to.plastic_work = solver::plastic_work(curve, point.equivalent_plastic_strain, point.flow_stress,
                                             solver::flow_stress(curve, 0).stress);
    };
    std::visit(update, solver::flow_curve(material_.hardening));
    to.stress = solver::voigt_stress(point.stress);
    to.strain = strain;
    to.plastic = solver::voigt_strain(point.plastic_strain);
    to.equivalent = point.equivalent_plastic_strain;
    to.thickness_strain = solver::thickness_strain(moduli_, point, s33);
    to.elastic_energy = solver::elastic_energy(moduli_, point, coordinates, s33);
    Matrix3d voigt;  // strain coordinates of Voigt strain, and Voigt stress of stress coordinates
    voigt << 0.5, 0.5, 0, 0.5, -0.5, 0, 0, 0, 0.5;
    tangent = voigt * point.tangent() * voigt;
  }
};

void add_work(const PointEnd& from, double from_s33, double s33, PointEnd& to) {
  to.work = from.work + 0.5 * (from.stress + to.stress).dot(to.strain - from.strain) +
            0.5 * (from_s33 + s33) * (to.thickness_strain - from.thickness_strain);
}

/// Rows: two directions across the path's stress.
Eigen::Matrix<double, 2, 3> across(const Vector3d& direction) {
  const Vector3d unit = direction.normalized();
  const Vector3d first = unit.unitOrthogonal();
  Eigen::Matrix<double, 2, 3> rows;
  rows << first.transpose(), unit.cross(first).transpose();
  return rows;
}

}  // namespace

HillConstants PointSheet::constants() const {
  const auto* r = std::get_if<solver::RValues>(&material.yield);
  return r != nullptr ? HillConstants(*r) : HillConstants();
}

const std::vector<PointSheet>& point_sheets() {
  static const std::vector<PointSheet> sheets = {
      {"mild steel, von Mises", mild_steel()},
      {"mild steel, Hill 1948", with_yield(mild_steel(), solver::RValues{1.79, 1.51, 2.27})},
      {"AA6022-T4, Hill 1948", with_yield({"", "", "", 70000, 0.33, solver::VoceHardening{214, 436, 6.75}},
                                          solver::RValues{0.80, 0.37, 0.54})},
      {"AA2090-T3, Yld2000-2d",
       with_yield({"", "", "", 69000, 0.33, solver::SwiftHardening{650, 0.025, 0.23}},
                  yld2000_sheets().at(0).yield)},
      {"DP780, Yld2000-2d", with_yield({"", "", "", 200000, 0.33, solver::VoceHardening{480, 1000, 14}},
                                       yld2000_sheets().at(3).yield)}};
  return sheets;
}

double equivalent_stress(const PointSheet& sheet, const Vector3d& x) {
  return YieldSurface(sheet).equivalent(x);
}

PointPath tension(double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const Vector3d along(c * c, s * s, c * s);
  return {"tension at an angle", along, along};
}

std::vector<PointPath> point_paths(const PointSheet& sheet) {
  constexpr double degree = std::numbers::pi / 180;
  std::vector<PointPath> paths = {tension(0), tension(45 * degree), tension(90 * degree)};
  paths[0].name = "tension at 0 degrees";
  paths[1].name = "tension at 45 degrees";
  paths[2].name = "tension at 90 degrees";
  paths.push_back({"plane strain", {1, width_share(sheet), 0}, {1, 0, 0}});
  paths.push_back({"equibiaxial", {1, 1, 0}, {1, 0, 0}});
  paths.push_back({"shear", {0, 0, 1}, {0, 0, 0.5}});
  return paths;
}

PointEnd exact_end(const PointSheet& sheet, const PointPath& path, double driven, double normal_stress) {
  const SheetMaterial& m = sheet.material;
  const YieldSurface surface(sheet);
  const Vector3d unit = path.stress / surface.equivalent(path.stress);
  const Vector3d flow = surface.flow(unit);
  const auto stress_at = [&](double g) -> Vector3d {
    return solver::flow_stress(m.hardening, g).stress * unit + normal_stress * kEqual;
  };
  double low = 0;
  double high = 4 * driven / path.gauge.dot(flow);
  for (int i = 0; i < 100; ++i) {
    const double g = 0.5 * (low + high);
    const double reached = path.gauge.dot(hooke(m, stress_at(g), normal_stress) + g * flow);
    (reached < driven ? low : high) = g;
  }
  PointEnd end;
  end.equivalent = low;
  end.stress = stress_at(low);
  end.plastic = low * flow;
  const Vector3d elastic = hooke(m, end.stress, normal_stress);
  end.strain = elastic + end.plastic;
  const double through =
      (normal_stress - m.poissons_ratio * (end.stress[0] + end.stress[1])) / m.youngs_modulus;
  end.thickness_strain = through - end.plastic[0] - end.plastic[1];
  end.elastic_energy = 0.5 * (end.stress.dot(elastic) + normal_stress * through);
  const double flow_stress = solver::flow_stress(m.hardening, low).stress;
  end.plastic_work = std::visit(
      [&](const auto& curve) {
        return solver::plastic_work(curve, low, flow_stress, solver::flow_stress(curve, 0).stress);
      },
      solver::flow_curve(m.hardening));
  end.work = end.elastic_energy + end.plastic_work;
  return end;
}

PointEnd drive(const PointSheet& sheet, const PointPath& path, double driven, double normal_stress,
               int n_steps) {
  const Update update(sheet.material);
  const Vector3d flow = YieldSurface(sheet).flow(path.stress);
  const Eigen::Matrix<double, 2, 3> off_path = across(path.stress);
  const double modulus = sheet.material.youngs_modulus;
  PointEnd point;
  double s33 = 0;
  for (int step = 1; step <= n_steps; ++step) {
    const double share = static_cast<double>(step) / n_steps;
    const double target = share * share * driven;
    Vector3d strain = point.strain + flow * ((target - path.gauge.dot(point.strain)) / path.gauge.dot(flow));
    PointEnd trial;
    Matrix3d tangent;
    for (int iteration = 0;; ++iteration) {
      if (iteration > 100) throw std::runtime_error("point plasticity: stress off the path stays");
      update.go(point, strain, normal_stress, trial, tangent);
      Vector3d residual;
      residual << off_path * (trial.stress - normal_stress * kEqual) / modulus,
          path.gauge.dot(strain) - target;
      if (residual.cwiseAbs().maxCoeff() < 1e-15 * (1 + driven)) break;
      Matrix3d slope;
      slope << off_path * tangent / modulus, path.gauge.transpose();
      const Vector3d correction = slope.fullPivLu().solve(residual);
      strain -= correction;
      if (correction.norm() < 1e-15) break;
    }
    add_work(point, s33, normal_stress, trial);
    point = trial;
    s33 = normal_stress;
  }
  return point;
}

PointEnd drive_strain(const PointSheet& sheet, const Vector3d& strain, int n_steps) {
  const Update update(sheet.material);
  PointEnd point;
  for (int step = 1; step <= n_steps; ++step) {
    PointEnd trial;
    Matrix3d tangent;
    update.go(point, strain * (static_cast<double>(step) / n_steps), 0, trial, tangent);
    add_work(point, 0, 0, trial);
    point = trial;
  }
  return point;
}

PointEnd integrate_strain(const PointSheet& sheet, const Vector3d& strain, int n_steps) {
  const YieldSurface surface(sheet);
  const Matrix3d stiffness = plane_stiffness(sheet.material);
  const auto hardening_at = [&](double g) { return solver::flow_stress(sheet.material.hardening, g); };
  struct Rate {
    Vector3d stress;
    double equivalent;
  };
  const auto rate = [&](const Vector3d& stress, double equivalent, const Vector3d& drive) -> Rate {
    const Vector3d normal = surface.normal(stress);
    const Vector3d elastic = stiffness * normal;
    const double multiplier =
        std::max(0.0, elastic.dot(drive) / (hardening_at(equivalent).slope + elastic.dot(normal)));
    return {stiffness * drive - multiplier * elastic, multiplier};
  };
  const double start = hardening_at(0).stress / surface.equivalent(stiffness * strain);
  PointEnd end;
  end.stress = start * stiffness * strain;
  const Vector3d part = strain * ((1 - start) / n_steps);
  for (int i = 0; i < n_steps; ++i) {
    const Rate k1 = rate(end.stress, end.equivalent, part);
    const Rate k2 = rate(end.stress + 0.5 * k1.stress, end.equivalent + 0.5 * k1.equivalent, part);
    const Rate k3 = rate(end.stress + 0.5 * k2.stress, end.equivalent + 0.5 * k2.equivalent, part);
    const Rate k4 = rate(end.stress + k3.stress, end.equivalent + k3.equivalent, part);
    end.stress += (k1.stress + 2 * k2.stress + 2 * k3.stress + k4.stress) / 6;
    end.equivalent += (k1.equivalent + 2 * k2.equivalent + 2 * k3.equivalent + k4.equivalent) / 6;
  }
  end.strain = strain;
  end.plastic = strain - hooke(sheet.material, end.stress, 0);
  return end;
}

const std::array<HillAngle, 7> kHillAA6022{{{0, 1, .8},
                                            {15, 1.0150, .6924},
                                            {30, 1.0399, .4858},
                                            {45, 1.0290, .37},
                                            {60, .9719, .3999},
                                            {75, .9120, .4932},
                                            {90, .8882, .54}}};

}  // namespace halftool::test
