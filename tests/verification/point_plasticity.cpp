#include "tests/verification/point_plasticity.hpp"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "tests/support/reference_sheets.hpp"

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
double equivalent_of(const Matrix3d& form, const Vector3d& x) {
  return std::sqrt(x.dot(form * x));
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

SheetMaterial with_r_values(SheetMaterial material, const solver::RValues& r) {
  material.r_values = r;
  return material;
}

/// The solver's stress update of a sheet, whatever its yield condition, in Voigt components.
class Update {
 public:
  explicit Update(const SheetMaterial& material)
      : material_(material), moduli_(material.youngs_modulus, material.poissons_ratio) {}

  /// Goes from an accepted point to a total strain; writes everything but the work.
  void go(const PointEnd& from, const Vector3d& strain, double s33, PointEnd& to, Matrix3d& tangent) const {
    if (material_.r_values)
      go_with<solver::HillPointStress>(solver::HillPlane(moduli_, HillConstants(*material_.r_values)), from,
                                       strain, s33, to, tangent);
    else
      go_with<solver::PointStress>(moduli_, from, strain, s33, to, tangent);
  }

 private:
  SheetMaterial material_;
  solver::PlaneModuli moduli_;

  template <class Point, class Yield>
  void go_with(const Yield& yield, const PointEnd& from, const Vector3d& strain, double s33, PointEnd& to,
               Matrix3d& tangent) const {
    Point point;
    const Vector3d coordinates = solver::strain_coordinates(strain);
    const auto update = [&](const auto& curve) {
      if (!solver::update_stress(yield, curve, coordinates, solver::strain_coordinates(from.plastic),
                                 from.equivalent, s33, point))
        throw std::runtime_error("point plasticity: no stress");
      to.plastic_work = solver::plastic_work(curve, point.equivalent_plastic_strain, point.flow_stress);
    };
    std::visit(update, material_.hardening);
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
  return material.r_values ? HillConstants(*material.r_values) : HillConstants();
}

const std::vector<PointSheet>& point_sheets() {
  static const std::vector<PointSheet> sheets = {
      {"mild steel, von Mises", mild_steel()},
      {"mild steel, Hill 1948", with_r_values(mild_steel(), {1.79, 1.51, 2.27})},
      {"AA6022-T4, Hill 1948",
       with_r_values({"", "", "", 70000, 0.33, solver::VoceHardening{214, 436, 6.75}}, {0.80, 0.37, 0.54})}};
  return sheets;
}

PointPath tension(double angle) {
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  const Vector3d along(c * c, s * s, c * s);
  return {"tension at an angle", along, along};
}

std::vector<PointPath> point_paths(const HillConstants& constants) {
  constexpr double degree = std::numbers::pi / 180;
  std::vector<PointPath> paths = {tension(0), tension(45 * degree), tension(90 * degree)};
  paths[0].name = "tension at 0 degrees";
  paths[1].name = "tension at 45 degrees";
  paths[2].name = "tension at 90 degrees";
  const double width_share = constants.H / (constants.F + constants.H);
  paths.push_back({"plane strain", {1, width_share, 0}, {1, 0, 0}});
  paths.push_back({"equibiaxial", {1, 1, 0}, {1, 0, 0}});
  paths.push_back({"shear", {0, 0, 1}, {0, 0, 0.5}});
  return paths;
}

PointEnd exact_end(const PointSheet& sheet, const PointPath& path, double driven, double normal_stress) {
  const SheetMaterial& m = sheet.material;
  const Matrix3d form = yield_form(sheet.constants());
  const Vector3d unit = path.stress / equivalent_of(form, path.stress);
  const Vector3d flow = form * unit;
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
      [&](const auto& curve) { return solver::plastic_work(curve, low, flow_stress); }, m.hardening);
  end.work = end.elastic_energy + end.plastic_work;
  return end;
}

PointEnd drive(const PointSheet& sheet, const PointPath& path, double driven, double normal_stress,
               int n_steps) {
  const Update update(sheet.material);
  const Vector3d flow = yield_form(sheet.constants()) * path.stress;
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
  const Matrix3d form = yield_form(sheet.constants());
  const Matrix3d stiffness = plane_stiffness(sheet.material);
  const auto hardening_at = [&](double g) { return solver::flow_stress(sheet.material.hardening, g); };
  struct Rate {
    Vector3d stress;
    double equivalent;
  };
  const auto rate = [&](const Vector3d& stress, double equivalent, const Vector3d& drive) -> Rate {
    const Vector3d normal = form * stress / equivalent_of(form, stress);
    const Vector3d elastic = stiffness * normal;
    const double multiplier =
        std::max(0.0, elastic.dot(drive) / (hardening_at(equivalent).slope + elastic.dot(normal)));
    return {stiffness * drive - multiplier * elastic, multiplier};
  };
  const double start = hardening_at(0).stress / equivalent_of(form, stiffness * strain);
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
