// Invariance of a whole pressing: blank and tool turned in space or mirrored as one, on one mesh, give the
// same thickness triangle by triangle at full pressure and after release, in as many iterations, with the
// tolerances that every case is computed with. Exact; no source needed.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <string>

#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/springback/release.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/note_keeper.hpp"

namespace {

using namespace halftool;
using Eigen::Matrix3d;
using Eigen::Vector3d;

constexpr double kPressure = 40;  // [MPa]
constexpr double kThickness = 1;  // [mm]
constexpr double kSame = 1e-10;   // relative, some thousand times the rounding of the contact's stiffness
constexpr int kLayers = 7;

struct ToolAndBlank {
  mesh::ToolSurface tool;
  mesh::Blank blank;
};

/// Thickness of each triangle.
struct Thickness {
  Eigen::VectorXd formed, released;
  int iterations = 0, iterations_release = 0;
  bool rests = true;
};

// An orthotropic sheet rolled aslant, so that every direction in it differs.
solver::SheetMaterial orthotropic_sheet() {
  return {.name = "orthotropic sheet",
          .source = "invented",
          .grade = "guessed",
          .youngs_modulus = 70e3,
          .poissons_ratio = 0.33,
          .hardening = solver::SwiftHardening{250, 0.002, 0.2},
          .yield = solver::RValues{0.7, 0.5, 0.9}};
}

mesh::ToolSpec block() {
  mesh::ToolSpec spec;
  spec.shape = mesh::StraightBlock{30, 40, 14, 3};
  return spec;
}

// A flange over one edge of a block, cut aslant, without symmetry. Exactly flat: the rolling direction is
// given in the plane z = 0 and projected on each triangle, which turns along with the sheet only if they are
// parallel.
mesh::Blank slanting_blank(const mesh::ToolSurface& tool) {
  mesh::BlankSpec spec;
  spec.outline = mesh::PolygonOutline{{{-6, -5}, {9, -5}, {11, 5}, {-6, 6}}, {}};
  spec.place = {10, 0.7};
  spec.thickness = kThickness;
  spec.rolling_angle = 0.3;
  mesh::BlankMeshSpec mesh_spec;
  mesh_spec.elements_per_bend = 4;
  return mesh::make_blank(spec, mesh_spec, tool);
}

// Lowers the blank onto the tool as far as the solver would, which does it along the press axis, z.
void lower(mesh::Blank& blank) {
  const solver::SolverSettings settings;
  const double whisper = 1e-3;  // [MPa]
  const auto model = solver::make_model(blank, orthotropic_sheet(), kLayers, true);
  blank.mesh.nodes.col(2).array() -= whisper / solver::contact_law(model, settings, 0.1, whisper).stiffness;
}

ToolAndBlank lay_blank() {
  ToolAndBlank result{mesh::make_tool(block()), {}};
  result.blank = slanting_blank(result.tool);
  lower(result.blank);
  return result;
}

// Blank and tool under an orthogonal transformation. A reflection turns the walk of every triangle.
ToolAndBlank moved(const ToolAndBlank& from, const Matrix3d& motion) {
  const bool mirrored = motion.determinant() < 0;
  const auto move = [&](mesh::SurfaceMesh mesh) {
    mesh.nodes = mesh.nodes * motion.transpose();
    if (mirrored) mesh.triangles.col(1).swap(mesh.triangles.col(2));
    return mesh;
  };
  mesh::Points normals = from.tool.corner_normals() * motion.transpose();
  if (mirrored)
    for (Eigen::Index t = 0; t < normals.rows() / 3; ++t) normals.row(3 * t + 1).swap(normals.row(3 * t + 2));
  ToolAndBlank to{mesh::ToolSurface(move(from.tool.mesh()), normals), from.blank};
  to.blank.mesh = move(from.blank.mesh);
  to.blank.edges = mesh::build_edges(to.blank.mesh);
  for (int e = 0; e < to.blank.edges.n_edges(); ++e)
    to.blank.edge_kind[e] = to.blank.edges.is_boundary(e) ? mesh::EdgeKind::outer : mesh::EdgeKind::interior;
  // The direction in the plane z = 0 whose projection on the sheet is the one that moved along.
  const Vector3d rolling(from.blank.rolling_direction.x(), from.blank.rolling_direction.y(), 0);
  const Vector3d along = motion * rolling, up = motion * Vector3d::UnitZ();
  to.blank.rolling_direction = (along - along.z() / up.z() * up).head<2>().normalized();
  return to;
}

Thickness press(const ToolAndBlank& setup) {
  const solver::SheetModel model = solver::make_model(setup.blank, orthotropic_sheet(), kLayers, true);
  solver::PressSpec spec;
  spec.schedule = {{1, kPressure}};
  solver::SolverSettings settings;
  settings.threads = 1;
  test::NoteKeeper monitor;
  solver::RunRecord record;
  solver::IncrementSolver increments(model, settings, record);
  const solver::FormedPart formed = solver::form(increments, setup.tool, spec, monitor, record);
  const solver::ReleasedPart released = solver::release(increments, formed, monitor, record);
  Thickness result;
  result.formed.resize(model.n_triangles());
  result.released.resize(model.n_triangles());
  for (int t = 0; t < model.n_triangles(); ++t) {
    result.formed(t) = formed.state.memory[t].thickness;
    result.released(t) = released.state.memory[t].thickness;
  }
  result.iterations = record.iterations;
  result.iterations_release = record.iterations_release;
  result.rests = monitor.notes.empty();
  return result;
}

class MovedPress : public testing::Test {
 protected:
  static const ToolAndBlank& original() {
    static const ToolAndBlank made = lay_blank();
    return made;
  }
  static const Thickness& at_home() {
    static const Thickness pressed = press(original());
    return pressed;
  }

  void expect_same_under(const Matrix3d& motion) {
    const Thickness there = press(moved(original(), motion));
    const auto miss = [](const Eigen::VectorXd& a, const Eigen::VectorXd& b) {
      return ((a - b).cwiseAbs().cwiseQuotient(b)).maxCoeff();
    };
    RecordProperty("formed", std::to_string(1e9 * miss(there.formed, at_home().formed)) + "e-9");
    RecordProperty("released", std::to_string(1e9 * miss(there.released, at_home().released)) + "e-9");
    RecordProperty("iterations", at_home().iterations);
    RecordProperty("iterations_release", there.iterations_release);
    EXPECT_TRUE(there.rests);
    EXPECT_LT(miss(there.formed, at_home().formed), kSame);
    EXPECT_LT(miss(there.released, at_home().released), kSame);
    EXPECT_EQ(there.iterations, at_home().iterations);
    EXPECT_EQ(there.iterations_release, at_home().iterations_release);
  }
};

Matrix3d about(const Vector3d& axis, double degrees) {
  return Eigen::AngleAxisd(degrees * std::numbers::pi / 180, axis.normalized()).toRotationMatrix();
}

// The flange is folded and thins, else nothing is compared.
TEST_F(MovedPress, FoldsAtHome) {
  EXPECT_TRUE(at_home().rests);
  EXPECT_LT(at_home().formed.minCoeff(), 0.998 * kThickness);
  EXPECT_GT((at_home().released - at_home().formed).cwiseAbs().maxCoeff(), 1e-5 * kThickness);
}

TEST_F(MovedPress, TurnedAboutThePressAxis) {
  expect_same_under(about(Vector3d::UnitZ(), 37));
}

TEST_F(MovedPress, TurnedAboutASkewAxis) {
  expect_same_under(about({1, 2, 3}, 37));
}

TEST_F(MovedPress, Mirrored) {
  expect_same_under(Vector3d(1, -1, 1).asDiagonal());
}

}  // namespace
