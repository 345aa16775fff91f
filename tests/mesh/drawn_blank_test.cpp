// Blanks whose outline is drawn: curves stay curves, in the mesh too.
#include <gmock/gmock.h>
#include <gmsh.h>

#include <cmath>
#include <filesystem>
#include <numbers>

#include "mesh/blank.hpp"
#include "mesh/chain_curves.hpp"
#include "mesh/gmsh_session.hpp"
#include "mesh/mesh_quality.hpp"
#include "mesh/step_outline.hpp"
#include "mesh/tool_surface.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::mesh {
namespace {

namespace fs = std::filesystem;
namespace occ = gmsh::model::occ;
using Eigen::Vector2d;
using ::testing::HasSubstr;

constexpr double pi = std::numbers::pi;

const ToolSurface& block() {
  static const ToolSurface tool = [] {
    ToolSpec spec;
    spec.shape = StraightBlock{150, 60, 35, 3};
    return make_tool(spec);
  }();
  return tool;
}

/// A blank 80 by 50 with one round, one elliptic corner curve and an elliptic hole.
std::vector<PlaneCurve> shield() {
  return {LineCurve{{-40, -25}, {40, -25}},
          LineCurve{{40, -25}, {40, 5}},
          ArcCurve{{20, 5}, 20, 0, pi / 2},
          LineCurve{{20, 25}, {-10, 25}},
          ellipse_arc({-10, 10}, {-30, 0}, -0.5, 0, pi / 2),
          LineCurve{{-40, 10}, {-40, -25}},
          ArcCurve{{0, 0}, 6, 0, 2 * pi},
          ellipse_arc({-22, -8}, {8, 0}, 0.5, 0, 2 * pi)};
}
constexpr double shield_area = 80 * 50 - (1 - pi / 4) * 400 - (1 - pi / 4) * 30 * 15 - pi * 36 - pi * 8 * 4;

BlankSpec blank_of(const std::vector<PlaneCurve>& curves) {
  BlankSpec spec;
  spec.outline = chain_curves(curves);
  spec.thickness = 1;
  return spec;
}

double meshed_area(const Blank& blank) {
  double area = 0;
  for (int t = 0; t < blank.mesh.n_triangles(); ++t) {
    const Vector2d a = blank.mesh.nodes.row(blank.mesh.triangles(t, 0)).head<2>();
    const Vector2d b = blank.mesh.nodes.row(blank.mesh.triangles(t, 1)).head<2>();
    const Vector2d c = blank.mesh.nodes.row(blank.mesh.triangles(t, 2)).head<2>();
    area += 0.5 * cross(b - a, c - a);
  }
  return area;
}

/// Distance from the shield's curves by their closed forms [mm]; of ellipses to first order.
double off_the_shield(const Vector2d& x) {
  const auto off_ellipse = [&](const Vector2d& centre, double a, double b) {
    const Vector2d d = x - centre;
    const double value = std::hypot(d.x() / a, d.y() / b) - 1;
    return std::abs(value) / std::hypot(d.x() / (a * a), d.y() / (b * b));
  };
  double off =
      std::min({std::abs(x.x() + 40), std::abs(x.x() - 40), std::abs(x.y() + 25), std::abs(x.y() - 25)});
  off = std::min(off, std::abs(x.norm() - 6));
  off = std::min(off, off_ellipse({-22, -8}, 8, 4));
  if (x.x() > 20 && x.y() > 5) off = std::min(off, std::abs((x - Vector2d(20, 5)).norm() - 20));
  if (x.x() < -10 && x.y() > 10) off = std::min(off, off_ellipse({-10, 10}, 30, 15));
  return off;
}

TEST(DrawnBlank, BorderNodesLieOnTheDrawnCurvesAndHolesAreKnown) {
  const Blank blank = make_blank(blank_of(shield()), {}, block());
  double worst = 0, around_holes = 0;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const EdgeKind kind = blank.edge_kind[static_cast<std::size_t>(e)];
    EXPECT_EQ(kind == EdgeKind::interior, !blank.edges.is_boundary(e));
    if (kind == EdgeKind::interior) continue;
    const Vector2d a = blank.mesh.nodes.row(blank.edges.nodes(e, 0)).head<2>();
    const Vector2d b = blank.mesh.nodes.row(blank.edges.nodes(e, 1)).head<2>();
    worst = std::max({worst, off_the_shield(a), off_the_shield(b)});
    if (kind == EdgeKind::hole) around_holes += (b - a).norm();
  }
  EXPECT_LT(worst, 1e-9);
  // Circumference of the ellipse by Ramanujan's formula of 1914 (from memory), good to 1e-5 here.
  const double ellipse = pi * (3 * 12 - std::sqrt((3 * 8 + 4) * (8 + 3 * 4)));
  EXPECT_NEAR(around_holes, 2 * pi * 6 + ellipse, 0.01 * around_holes);
  EXPECT_NEAR(meshed_area(blank), shield_area, 3e-3 * shield_area);
  EXPECT_GT(smallest_angles(blank.mesh).minCoeff(), 25 * pi / 180);
}

TEST(DrawnBlank, APolygonAndItsDrawingGiveTheSameBlank) {
  BlankSpec polygon;
  polygon.outline = PolygonOutline{{{-40, -25}, {40, -25}, {40, 25}, {-40, 25}}, {5, 5, 5, 5}};
  polygon.thickness = 1;
  std::vector<PlaneCurve> curves;
  for (int i = 0; i < 4; ++i) {
    const double sx = i == 0 || i == 3 ? -1 : 1, sy = i < 2 ? -1 : 1;
    curves.push_back(ArcCurve{{35 * sx, 20 * sy}, 5, pi + i * pi / 2, pi / 2});
  }
  curves.push_back(LineCurve{{-35, -25}, {35, -25}});
  curves.push_back(LineCurve{{40, -20}, {40, 20}});
  curves.push_back(LineCurve{{35, 25}, {-35, 25}});
  curves.push_back(LineCurve{{-40, 20}, {-40, -20}});
  const Blank a = make_blank(polygon, {}, block());
  const Blank b = make_blank(blank_of(curves), {}, block());
  EXPECT_NEAR(meshed_area(a), meshed_area(b), 1e-9 * meshed_area(a));
  EXPECT_NEAR(a.mesh.n_triangles(), b.mesh.n_triangles(), 0.02 * a.mesh.n_triangles());  // begun elsewhere
}

TEST(DrawnBlank, SymmetryPlanesCutDrawnCurves) {
  BlankSpec spec =
      blank_of({ellipse_arc({0, 0}, {40, 0}, 0.6, 0.3, 0.3 + 2 * pi), ArcCurve{{0, 0}, 5, 0.7, 2 * pi}});
  spec.symmetric_x = spec.symmetric_y = true;
  const Blank blank = make_blank(spec, {}, block());
  EXPECT_NEAR(meshed_area(blank), pi * (40 * 24 - 25) / 4, 3e-3 * pi * 240);
  double on_x = 0, on_y = 0;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const double length =
        (blank.mesh.nodes.row(blank.edges.nodes(e, 0)) - blank.mesh.nodes.row(blank.edges.nodes(e, 1)))
            .norm();
    if (blank.edge_kind[static_cast<std::size_t>(e)] == EdgeKind::symmetry_x) on_x += length;
    if (blank.edge_kind[static_cast<std::size_t>(e)] == EdgeKind::symmetry_y) on_y += length;
  }
  EXPECT_NEAR(on_x, 24 - 5, 1e-8);
  EXPECT_NEAR(on_y, 40 - 5, 1e-8);
}

TEST(DrawnBlank, ManyTinyChordsDoNotRuinTheMesh) {
  std::vector<PlaneCurve> curves{LineCurve{{-40, -20}, {40, -20}}, LineCurve{{40, -20}, {40, 0}},
                                 LineCurve{{-40, 0}, {-40, -20}}};
  constexpr int n = 1500;  // half an ellipse in chords of some 0.03 to 0.08 mm
  const auto at = [](int i) { return Vector2d(40 * std::cos(pi * i / n), 20 * std::sin(pi * i / n)); };
  for (int i = 0; i < n; ++i)
    curves.push_back(LineCurve{i == 0 ? Vector2d(40, 0) : at(i), i + 1 == n ? Vector2d(-40, 0) : at(i + 1)});
  const Blank blank = make_blank(blank_of(curves), {}, block());
  EXPECT_GT(smallest_angles(blank.mesh).minCoeff(), 20 * pi / 180);
  EXPECT_LT(blank.mesh.n_triangles(), 6000);
  EXPECT_NEAR(meshed_area(blank), 1600 + pi * 400, 0.02 * 2800);
}

TEST(DrawnBlank, OffTheToolIsRefusedAsForAnyOutline) {
  BlankSpec spec = blank_of(shield());
  spec.place = {900, 0};
  try {
    make_blank(spec, {}, block());
    FAIL() << "accepted";
  } catch (const MeshError& error) {
    EXPECT_THAT(error.what(),
                HasSubstr("the blank, from (860 -25) to (940  25) mm, does not lie over the tool"));
  }
}

class StepOutline : public ::testing::Test {
 protected:
  /// Writes a plate of 2 mm with the given turn about the x axis, or a sphere.
  std::string write(const std::string& what, double turn) {
    const fs::path file = folder_.path() / (what + ".step");
    const GmshSession session;
    session.attempt("writing", [&] {
      if (what == "ball") {
        occ::addSphere(0, 0, 0, 10);
      } else {
        const int sheet = occ::addRectangle(-30, -20, 0, 60, 40, -1, 6);
        const int round = occ::addPlaneSurface({occ::addCurveLoop({occ::addCircle(10, 5, 0, 5)})});
        const int oval = occ::addDisk(-12, 0, 0, 8, 4);
        gmsh::vectorpair cut;
        std::vector<gmsh::vectorpair> map;
        occ::cut({{2, sheet}}, {{2, round}, {2, oval}}, cut, map);
        gmsh::vectorpair plate;
        occ::extrude(cut, 0, 0, 2, plate);
        occ::rotate(plate, 0, 0, 0, 1, 0, 0, turn);
      }
      occ::synchronize();
      gmsh::write(file.string());
    });
    return file.string();
  }

 private:
  halftool::test::ScratchFolder folder_;
};

TEST_F(StepOutline, LargestPlanarFaceWithItsHolesIsLaidFlat) {
  const double area = 60 * 40 - (4 - pi) * 36 - pi * 25 - pi * 32;
  for (const double turn : {0.0, pi / 2, 0.7, pi}) {
    const DrawnOutline outline = chain_curves(read_planar_face(write("plate", turn)).curves);
    ASSERT_EQ(outline.holes.size(), 2U) << turn;
    double found = area_of(outline.outer);
    for (const auto& hole : outline.holes) found -= area_of(hole);
    EXPECT_NEAR(found, area, 1e-8 * area) << turn;
    const bool upside_down = turn == pi;  // seen from above, y is mirrored
    const Vector2d centre =
        outline.holes[0].front().centre ? *outline.holes[0].front().centre : *outline.holes[1].front().centre;
    if (turn == 0 || upside_down) {
      EXPECT_LT((centre - Vector2d(10, upside_down ? -5 : 5)).norm(), 1e-9) << turn;
    }
    const PlanarFace face = read_planar_face(write("plate", turn));
    EXPECT_NEAR(face.depth, 2, 1e-9) << turn;
    EXPECT_NEAR(meshed_area(make_blank(blank_of(face.curves), {}, block())), area, 3e-3 * area);
  }
}

TEST_F(StepOutline, RefusesWhatHoldsNoPlaneAndWhatIsNoStepFile) {
  const auto message = [](const std::string& path) -> std::string {
    try {
      read_planar_face(path);
    } catch (const MeshError& error) {
      return error.what();
    }
    return "no error";
  };
  EXPECT_THAT(message(write("ball", 0)), HasSubstr("the STEP file holds no planar face"));
  EXPECT_THAT(message(std::string(HALFTOOL_CASES) + "/curved_flange/case.toml"),
              HasSubstr("the STEP file cannot be read"));
  EXPECT_THAT(message("no such file"), HasSubstr("the STEP file cannot be read"));
}

}  // namespace
}  // namespace halftool::mesh
