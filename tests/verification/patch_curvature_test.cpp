// Patch test of bending: a flat sheet whose border is laid on a shallow paraboloid must follow it inside,
// whatever its triangles. Exact in the limit of small deflection; no source needed.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <tuple>
#include <vector>

#include "tests/support/blank_of.hpp"
#include "tests/support/exact_surface.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace {

using namespace halftool;
using namespace halftool::test;

constexpr double kModulus = 2e5;

struct Bend {
  std::string name;
  Eigen::Vector3d curvature;  // k11, k22, k12, of order 1, times a small number
};
void PrintTo(const Bend& bend, std::ostream* out) {
  *out << bend.name;
}

class BendingPatch : public testing::TestWithParam<std::tuple<unsigned, Bend>> {
 protected:
  solver::SheetModel model() const {
    mesh::Blank blank = blank_of(rectangle(1, 1, 8, 8, {std::get<0>(GetParam()), 0.3}), 0.1);
    blank.rim_held = true;
    return elastic_model(blank, kModulus, 0.3);
  }
  Eigen::Vector3d curvature() const { return std::get<1>(GetParam()).curvature; }
};
INSTANTIATE_TEST_SUITE_P(SeedsAndCurvatures, BendingPatch,
                         testing::Combine(testing::Values(1U, 2U, 3U),
                                          testing::Values(Bend{"Cylinder", {1, 0, 0}},
                                                          Bend{"Twist", {0, 0, 1}},
                                                          Bend{"General", {0.7, -0.4, 0.5}})),
                         [](const auto& test) {
                           return std::get<1>(test.param).name + "Seed" +
                                  std::to_string(std::get<0>(test.param));
                         });

// Nodes on the surface and mid-side normals along its; only the held ones of them if `border_only`.
solver::SheetPlace laid_on(const solver::SheetModel& model, const ExactSurface& surface, bool border_only) {
  const solver::SheetState flat = solver::initial_state(model);
  const mesh::Blank& blank = model.blank;
  solver::SheetPlace place = flat.place;
  for (int node = 0; node < blank.mesh.n_nodes(); ++node)
    if (!border_only || model.equations.of_node(node, 0) < 0)
      place.positions.row(node) = surface.place(blank.mesh.nodes.row(node).transpose()).transpose();
  for (int edge = 0; edge < blank.edges.n_edges(); ++edge) {
    if (border_only && model.equations.turn(edge) >= 0) continue;
    const auto ends = blank.edges.nodes.row(edge);
    const Eigen::Vector3d tail = surface.place(blank.mesh.nodes.row(ends(0)).transpose());
    const Eigen::Vector3d head = surface.place(blank.mesh.nodes.row(ends(1)).transpose());
    const Eigen::Vector3d middle =
        0.5 * (blank.mesh.nodes.row(ends(0)) + blank.mesh.nodes.row(ends(1))).transpose();
    place.turn(edge) = turn_towards(flat.frames[edge], (head - tail).normalized(), surface.normal(middle));
  }
  return place;
}

// Largest error of a triangle's curvature [k11, k22, 2 k12] over the largest curvature.
double curvature_error(const solver::SheetModel& model, const solver::SheetPlace& place,
                       const Eigen::Vector3d& curvature) {
  const Eigen::Vector3d wanted(curvature(0), curvature(1), 2 * curvature(2));
  const std::vector<solver::EdgeFrame> frames = solver::initial_state(model).frames;
  double worst = 0;
  for (int t = 0; t < model.n_triangles(); ++t) {
    const auto strain =
        solver::triangle_strain(model.references[t], solver::triangle_state(model, place, frames, t));
    worst = std::max(worst, (strain.value.tail<3>() - wanted).cwiseAbs().maxCoeff());
  }
  return worst / wanted.cwiseAbs().maxCoeff();
}

// Slopes of 1e-5: their squares, and rounding of 1e-16 in angles of 1e-6, are both below 1e-9.
TEST_P(BendingPatch, HasTheExactCurvatureOnTheSurface) {
  const Eigen::Vector3d k = 1e-5 * curvature();
  const solver::SheetModel patch = model();
  const solver::SheetPlace place = laid_on(patch, paraboloid(k(0), k(1), k(2)), false);
  const double error = curvature_error(patch, place, k);
  RecordProperty("curvature_error", testing::PrintToString(error));
  EXPECT_LT(error, 1e-9);
}

// Deflections of 1e-4 of the thickness. What is left is the in-plane motion that goes with the square of the
// slopes, some 1e-6 of the deflection. The force tolerance is above the rounding of membrane forces, which
// dwarf the bending forces.
TEST_P(BendingPatch, FollowsTheSurfaceInside) {
  const Eigen::Vector3d k = 1e-5 * curvature();
  const solver::SheetModel patch = model();
  const ExactSurface surface = paraboloid(k(0), k(1), k(2));
  solver::Tolerances tolerances;
  tolerances.reference_force = kModulus * std::pow(patch.blank.thickness, 3) / 12 * k.norm();
  tolerances.force = 1e-6;

  const auto found =
      solve_free(patch, solver::initial_state(patch), laid_on(patch, surface, true), tolerances);

  ASSERT_TRUE(found.converged) << found.reason << " " << found.out_of_balance;
  const mesh::Points wanted = laid_on(patch, surface, false).positions;
  const double scale = (wanted - patch.blank.mesh.nodes).cwiseAbs().maxCoeff();
  const double error = (found.place.positions - wanted).cwiseAbs().maxCoeff() / scale;
  RecordProperty("displacement_error", testing::PrintToString(error));
  EXPECT_LT(error, 1e-5);
  EXPECT_LT(curvature_error(patch, found.place, k), 1e-8);
}

}  // namespace
