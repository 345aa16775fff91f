#include "tests/verification/clamped_plate.hpp"

#include <cmath>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kRadius = 100;
constexpr double kModulus = 2e5;

// [11, 22, 12] in the plane of the flat plate; strains are small.
Eigen::Vector3d membrane_stress(const solver::SheetModel& model, const solver::SheetState& state, int t) {
  const auto strain = solver::triangle_strain(model.references[t],
                                              solver::triangle_state(model, state.place, state.frames, t));
  const Eigen::Vector3d e = strain.value.head<3>();
  const double plane = kModulus / (1 - kPlatePoisson * kPlatePoisson);
  return {plane * (e(0) + kPlatePoisson * e(1)), plane * (e(1) + kPlatePoisson * e(0)),
          0.5 * plane * (1 - kPlatePoisson) * e(2)};
}

bool at_border(const mesh::Blank& blank, int t) {
  for (int i = 0; i < 3; ++i)
    if (blank.edges.is_boundary(blank.edges.of_triangle(t, i))) return true;
  return false;
}

void add_stresses(const solver::SheetModel& model, const solver::SheetState& state, PressedPlate& plate) {
  const mesh::SurfaceMesh& mesh = model.blank.mesh;
  const double unit = kModulus * std::pow(model.blank.thickness / kRadius, 2);
  int n_centre = 0, n_edge = 0;
  for (int t = 0; t < model.n_triangles(); ++t) {
    const bool centre = (mesh.triangles.row(t).array() == 0).any();
    const bool edge = at_border(model.blank, t);
    if (!centre && !edge) continue;
    const Eigen::Vector3d stress = membrane_stress(model, state, t) / unit;
    if (centre) {
      plate.centre_stress += 0.5 * (stress(0) + stress(1));
      n_centre += 1;
    }
    if (edge) {
      Eigen::RowVector2d middle = Eigen::RowVector2d::Zero();
      for (int i = 0; i < 3; ++i) middle += mesh.nodes.row(mesh.triangles(t, i)).head<2>() / 3;
      const Eigen::RowVector2d out = middle.normalized();
      plate.edge_stress +=
          out(0) * out(0) * stress(0) + out(1) * out(1) * stress(1) + 2 * out(0) * out(1) * stress(2);
      plate.edge_place += middle.norm() / kRadius;
      n_edge += 1;
    }
  }
  plate.centre_stress /= n_centre;
  plate.edge_stress /= n_edge;
  plate.edge_place /= n_edge;
}

}  // namespace

double membrane_radial_stress(double share) {
  const double b = 4 * kMembraneCentre;
  const double x = share * share;
  const double c = 1 / (b * b * b);
  const double series =
      1 - c * x * (1 + c * x * (2.0 / 3 + c * x * (13.0 / 18 + c * x * (17.0 / 18 + c * x * 37.0 / 27))));
  return kMembraneCentre * series;
}

std::vector<PressedPlate> press_plate(const std::vector<double>& loads, int rings, unsigned seed,
                                      double slope) {
  const double thickness = slope * kRadius;
  mesh::Blank blank = blank_of(disc(kRadius, rings, Disorder{seed}), thickness);
  blank.rim_held = true;
  const solver::SheetModel model = elastic_model(blank, kModulus, kPlatePoisson);
  LoadedSheet sheet(model, {}, loads.back() * kModulus * std::pow(slope, 4));
  std::vector<PressedPlate> result;
  for (const double load : loads) {
    sheet.load_to(load / loads.back());
    PressedPlate plate{.load = load, .deflection = -sheet.displacement(0).z() / thickness};
    add_stresses(model, sheet.state(), plate);
    result.push_back(plate);
  }
  return result;
}

}  // namespace halftool::test
