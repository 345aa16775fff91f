#include "tests/verification/bulge_dome.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "mesh/tool_surface.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/note_keeper.hpp"

namespace halftool::test {
namespace {

constexpr double kPoleShare = 0.1;  // of the opening radius: triangles that count as the pole
constexpr double kCapShare = 0.4;   // nodes that the pole's curvature is fitted to

constexpr double kElementsPerBend = 4;  // the lip is far from the pole

mesh::ToolSurface make_cavity(const BulgeSetup& setup) {
  const double lip = setup.opening_radius + setup.entry_radius;
  mesh::ToolSpec spec;
  spec.shape = mesh::RoundCavity{setup.opening_radius, setup.entry_radius, setup.opening_radius, 1.5 * lip};
  return mesh::make_tool(spec);
}

mesh::Blank make_sheet(const BulgeSetup& setup, const mesh::ToolSurface& tool) {
  mesh::BlankSpec spec;
  spec.outline = mesh::CircleOutline{setup.opening_radius + 2 * setup.entry_radius};
  spec.thickness = setup.thickness;
  spec.symmetric_x = spec.symmetric_y = true;
  spec.rim_held = true;
  mesh::BlankMeshSpec mesh_spec;
  mesh_spec.coarsest = setup.edge_length;
  mesh_spec.elements_per_bend = kElementsPerBend;
  return mesh::make_blank(spec, mesh_spec, tool);
}

double area(const mesh::SurfaceMesh& mesh, const mesh::Points& positions, int t) {
  const Eigen::Vector3d a = positions.row(mesh.triangles(t, 0));
  const Eigen::Vector3d b = positions.row(mesh.triangles(t, 1));
  const Eigen::Vector3d c = positions.row(mesh.triangles(t, 2));
  return 0.5 * (b - a).cross(c - a).norm();
}

std::vector<int> pole_triangles(const mesh::SurfaceMesh& mesh, double within) {
  std::vector<int> pole;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    Eigen::RowVector2d centre = Eigen::RowVector2d::Zero();
    for (int i = 0; i < 3; ++i) centre += mesh.nodes.row(mesh.triangles(t, i)).head<2>() / 3;
    if (centre.norm() < within) pole.push_back(t);
  }
  return pole;
}

/// z = z0 + r^2/(2 rho) + c r^4 through the nodes of a cap, least squares.
double radius_at_pole(const mesh::Points& positions, double within) {
  std::vector<Eigen::Vector4d> rows;
  for (Eigen::Index node = 0; node < positions.rows(); ++node) {
    const double square = positions.row(node).head<2>().squaredNorm();
    if (square < within * within) rows.emplace_back(1, square, square * square, positions(node, 2));
  }
  Eigen::MatrixX3d terms(rows.size(), 3);
  Eigen::VectorXd heights(rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    terms.row(static_cast<Eigen::Index>(i)) = rows[i].head<3>().transpose();
    heights(static_cast<Eigen::Index>(i)) = rows[i](3);
  }
  const Eigen::Vector3d fit = terms.colPivHouseholderQr().solve(heights);
  return 1 / (2 * fit(1));
}

/// Stress and strain through the sheet at one triangle.
class TriangleSample {
 public:
  TriangleSample(const solver::SheetModel& model, const solver::SheetState& state, int t) : model_(model) {
    const solver::TriangleState unknowns = solver::triangle_state(model, state.place, state.frames, t);
    const solver::TriangleStrain strain = solver::triangle_strain(model.references[t], unknowns);
    strain_ = {strain.value.head<3>(), strain.value.tail<3>()};
    frozen_ = solver::section_frozen(model, state, t, state.pressure, true);
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

void add_pole(const solver::SheetModel& model, const solver::SheetState& state, double within, Dome& dome) {
  const mesh::SurfaceMesh& flat = model.blank.mesh;
  const std::vector<int> pole = pole_triangles(flat, within);
  double before = 0, now = 0;
  for (const int t : pole) {
    before += area(flat, flat.nodes, t);
    now += area(flat, state.place.positions, t);
  }
  dome.area_strain = std::log(now / before);
  for (const int t : pole) {
    const double share = area(flat, state.place.positions, t) / now;
    const TriangleSample sample(model, state, t);
    const solver::SectionPoint mid = sample.at(0);
    const Eigen::Vector2d stress = sample.cauchy(0);
    dome.thickness += share * state.memory[t].thickness;
    dome.thickness_strain += share * state.memory[t].thickness_strain;
    dome.surface_strain += share * (mid.strain(0) + mid.strain(1));
    dome.normal_stress += share * mid.normal_stress;
    dome.stress += share * stress.mean();
    dome.stress_spread = std::max(dome.stress_spread, std::abs(stress(0) - stress(1)) / stress.mean());
    // Simpson over the thickness: the stress is smooth where all of the sheet flows.
    dome.stress_mean += share * (sample.cauchy(-0.5) + 4 * stress + sample.cauchy(0.5)).mean() / 6;
  }
}

}  // namespace

Dome bulge(const BulgeSetup& setup) {
  const mesh::ToolSurface tool = make_cavity(setup);
  const mesh::Blank blank = make_sheet(setup, tool);
  solver::SolverSettings settings;
  settings.threads = 1;
  const solver::SheetModel model =
      solver::make_model(blank, setup.material, settings.layers, settings.enriched_membrane);
  solver::PressSpec press;
  press.schedule = {{1, setup.pressure}};

  Dome dome;
  NoteKeeper monitor;
  solver::IncrementSolver increments(model, settings, dome.record);
  const solver::SheetState state = solver::form(increments, tool, press, monitor, dome.record).state;
  dome.height = blank.mesh.nodes(0, 2) - state.place.positions.col(2).minCoeff();
  dome.radius = radius_at_pole(state.place.positions, kCapShare * setup.opening_radius);
  add_pole(model, state, kPoleShare * setup.opening_radius, dome);
  dome.notes = monitor.notes;
  return dome;
}

}  // namespace halftool::test
