#include "tests/verification/bulge_pole.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <vector>

namespace halftool::test {
namespace {

constexpr double kPoleShare = 0.1;     // of the opening: triangles that count as the pole
constexpr double kCapShare = 0.6;      // nodes that the pole's curvature is fitted to
constexpr double kBalanceShare = 0.3;  // triangles over which the cap is balanced

double area(const mesh::SurfaceMesh& mesh, const mesh::Points& positions, int t) {
  const Eigen::Vector3d a = positions.row(mesh.triangles(t, 0));
  const Eigen::Vector3d b = positions.row(mesh.triangles(t, 1));
  const Eigen::Vector3d c = positions.row(mesh.triangles(t, 2));
  return 0.5 * (b - a).cross(c - a).norm();
}

/// Triangles whose middle lies within a share of the opening.
std::vector<int> triangles_within(double share, const mesh::SurfaceMesh& mesh, const Eigen::Vector2d& size) {
  std::vector<int> within;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();
    for (int i = 0; i < 3; ++i)
      centre += mesh.nodes.row(mesh.triangles(t, i)).head<2>().transpose().cwiseQuotient(size) / 3;
    if (centre.norm() < share) within.push_back(t);
  }
  return within;
}

/// Quadric x^2 + b y^2 + c z^2 + d z + e x + f y + g x y + h = 0 through the nodes of a cap, least squares:
/// exact on spheres and ellipsoids. At the pole z'' = -2/(2 c z + d) along x, and b times that along y.
Eigen::Vector2d radii_at_pole(const mesh::Points& positions, const Eigen::Vector2d& size) {
  std::vector<Eigen::Index> cap;
  double pole = 0;
  for (Eigen::Index node = 0; node < positions.rows(); ++node)
    if (positions.row(node).head<2>().transpose().cwiseQuotient(size).norm() < kCapShare) cap.push_back(node);
  Eigen::MatrixXd terms(cap.size(), 7);
  Eigen::VectorXd squares(cap.size());
  for (std::size_t i = 0; i < cap.size(); ++i) {
    const double x = positions(cap[i], 0), y = positions(cap[i], 1), z = positions(cap[i], 2);
    terms.row(static_cast<Eigen::Index>(i)) << y * y, z * z, z, x, y, x * y, 1;
    squares(static_cast<Eigen::Index>(i)) = -x * x;
    pole = std::min(pole, z);
  }
  const Eigen::VectorXd fit = terms.colPivHouseholderQr().solve(squares);
  const double radius = std::abs(fit(1) * pole + 0.5 * fit(2));
  return {radius, radius / fit(0)};
}

/// Stress and strain through the sheet at one triangle.
class TriangleSample {
 public:
  TriangleSample(const solver::SheetModel& model, const solver::SheetState& state, int t, bool normal_stress)
      : model_(model) {
    const solver::TriangleState unknowns = solver::triangle_state(model, state.place, state.frames, t);
    const solver::TriangleStrain strain = solver::triangle_strain(model.references[t], unknowns);
    strain_ = {strain.value.head<3>(), strain.value.tail<3>()};
    frozen_ = solver::section_frozen(model, state, t, state.pressure, normal_stress);
    points_ = state.points.data() + static_cast<std::ptrdiff_t>(t) * model.section.n_points();
  }
  [[nodiscard]] solver::SectionPoint at(double zeta) const {
    return model_.section.sample(strain_, frozen_, points_, zeta);
  }
  /// Cauchy stress 11 and 22: Kirchhoff over the change of volume, which is elastic.
  [[nodiscard]] Eigen::Vector2d cauchy(double zeta) const {
    const solver::SectionPoint point = at(zeta);
    const solver::SheetMaterial& metal = model_.section.material();
    const double dilatation = (1 - 2 * metal.poissons_ratio) / metal.youngs_modulus *
                              (point.stress(0) + point.stress(1) + point.normal_stress);
    return point.stress.head<2>() * std::exp(-dilatation);
  }

 private:
  const solver::SheetModel& model_;
  solver::SectionStrain strain_;
  solver::SectionFrozen frozen_;
  const solver::PointState* points_;
};

}  // namespace

Pole pole_of(const solver::SheetModel& model, const solver::SheetState& state, const Eigen::Vector2d& size,
             bool normal_stress) {
  const mesh::SurfaceMesh& flat = model.blank.mesh;
  const std::vector<int> triangles = triangles_within(kPoleShare, flat, size);
  double before = 0, now = 0;
  for (const int t : triangles) {
    before += area(flat, flat.nodes, t);
    now += area(flat, state.place.positions, t);
  }
  Pole pole;
  pole.radius = radii_at_pole(state.place.positions, size);
  pole.area_strain = std::log(now / before);
  pole.strain = pole.stress = pole.stress_mean = Eigen::Vector2d::Zero();
  for (const int t : triangles) {
    const double share = area(flat, state.place.positions, t) / now;
    const TriangleSample sample(model, state, t, normal_stress);
    const solver::SectionPoint mid = sample.at(0);
    const Eigen::Vector2d stress = sample.cauchy(0);
    pole.thickness += share * state.memory[t].thickness;
    pole.thickness_strain += share * state.memory[t].thickness_strain;
    pole.strain += share * mid.strain.head<2>();
    pole.equivalent_plastic += share * mid.equivalent_plastic_strain;
    pole.normal_stress += share * mid.normal_stress;
    pole.stress += share * stress;
    pole.stress_spread = std::max(pole.stress_spread, std::abs(stress(0) - stress(1)) / stress.mean());
    // Simpson over the thickness: the stress is smooth where all of the sheet flows.
    pole.stress_mean += share * (sample.cauchy(-0.5) + 4 * stress + sample.cauchy(0.5)) / 6;
  }
  return pole;
}

double borne_share(const Pole& pole, double pressure) {
  const Eigen::Array2d bend = pole.radius.array().inverse();
  const double borne = pole.thickness * (pole.stress.array() * bend).sum();
  return borne / (pressure * (1 - 0.5 * pole.thickness * bend).prod());
}

namespace {

Eigen::Matrix2d symmetric(const Eigen::Vector3d& v, double shear) {
  Eigen::Matrix2d m;
  m << v(0), shear * v(2), shear * v(2), v(1);
  return m;
}

}  // namespace

double cap_balance(const solver::SheetModel& model, const solver::SheetState& before,
                   const solver::SheetState& state, const Eigen::Vector2d& size, bool normal_stress) {
  double carried = 0, wetted = 0;
  std::vector<solver::PointState> trial(model.section.n_points());
  for (const int t : triangles_within(kBalanceShare, model.blank.mesh, size)) {
    const solver::TriangleState unknowns = solver::triangle_state(model, state.place, before.frames, t);
    const solver::TriangleStrain strain = solver::triangle_strain(model.references[t], unknowns);
    const solver::SectionFrozen frozen =
        solver::section_frozen(model, before, t, state.pressure, normal_stress);
    solver::SectionResponse section;
    model.section.respond({strain.value.head<3>(), strain.value.tail<3>()}, frozen,
                          before.points.data() + static_cast<std::ptrdiff_t>(t) * trial.size(), trial.data(),
                          section);
    const Eigen::Matrix2d metric = Eigen::Matrix2d::Identity() + 2 * symmetric(strain.value.head<3>(), 0.5);
    const Eigen::Matrix2d curvature = symmetric(strain.value.tail<3>(), 0.5);
    const Eigen::Matrix2d mixed = metric.inverse() * curvature;
    const Eigen::Matrix2d force = symmetric(section.resultant.head<3>(), 1);
    const Eigen::Matrix2d moment = symmetric(section.resultant.tail<3>(), 1);
    const double area = model.references[t].area;
    carried += area * (force.cwiseProduct(curvature) + moment.cwiseProduct(curvature * mixed)).sum();
    const Eigen::Matrix2d inner = Eigen::Matrix2d::Identity() - 0.5 * before.memory[t].thickness * mixed;
    wetted += area * std::sqrt(metric.determinant()) * inner.determinant();
  }
  return carried / (state.pressure * wetted);
}

}  // namespace halftool::test
