#include "mesh/blank.hpp"

#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>
#include <set>

#include "mesh/tool_surface.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using ::testing::Contains;
using ::testing::HasSubstr;
using ::testing::MatchesRegex;

constexpr double degree = std::numbers::pi / 180;

const ToolSurface& bracket_tool() {
  static const ToolSurface tool = [] {
    ToolSpec spec;
    spec.shape = StraightBlock{150, 60, 35, 3};
    return make_tool(spec);
  }();
  return tool;
}

/// Blank of the bracket: a 20 mm flange over the edge at x = 75.
BlankSpec bracket_blank() {
  BlankSpec spec;
  spec.outline = RectangleOutline{150, 60, 0};
  spec.place = {22, 0};
  spec.thickness = 1.6;
  return spec;
}

double area_of(const SurfaceMesh& mesh) {
  double area = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Vector2d a = mesh.nodes.row(mesh.triangles(t, 0)).head<2>();
    const Vector2d b = mesh.nodes.row(mesh.triangles(t, 1)).head<2>();
    const Vector2d c = mesh.nodes.row(mesh.triangles(t, 2)).head<2>();
    const double signed_area = 0.5 * ((b - a).x() * (c - a).y() - (b - a).y() * (c - a).x());
    EXPECT_GT(signed_area, 0);
    area += signed_area;
  }
  return area;
}

double length_of(const Blank& blank, EdgeKind kind) {
  double length = 0;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (blank.edge_kind[static_cast<std::size_t>(e)] != kind) continue;
    length += (blank.mesh.nodes.row(blank.edges.nodes(e, 0)) - blank.mesh.nodes.row(blank.edges.nodes(e, 1)))
                  .norm();
  }
  return length;
}

/// Mean edge length among the edges whose middle has low < x < high.
double mean_edge(const Blank& blank, double low, double high) {
  double sum = 0;
  int n = 0;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const auto a = blank.mesh.nodes.row(blank.edges.nodes(e, 0));
    const auto b = blank.mesh.nodes.row(blank.edges.nodes(e, 1));
    const double x = 0.5 * (a.x() + b.x());
    if (x < low || x > high) continue;
    sum += (a - b).norm();
    ++n;
  }
  return sum / n;
}

std::string message_of(const BlankSpec& spec, const BlankMeshSpec& mesh_spec = {}) {
  try {
    make_blank(spec, mesh_spec, bracket_tool());
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

TEST(MakeBlank, RectangleIsFlatUpwardCompleteAndHalfAThicknessAboveTheTool) {
  const Blank blank = make_blank(bracket_blank(), {}, bracket_tool());
  EXPECT_NEAR(area_of(blank.mesh), 150 * 60, 1e-8);
  EXPECT_NEAR(length_of(blank, EdgeKind::outer), 420, 1e-9);
  EXPECT_TRUE((blank.mesh.nodes.col(2).array() == 35.8).all());
  EXPECT_EQ(blank.thickness, 1.6);
  std::set<int> used(blank.mesh.triangles.data(), blank.mesh.triangles.data() + blank.mesh.triangles.size());
  EXPECT_EQ(static_cast<int>(used.size()), blank.mesh.n_nodes());
  EXPECT_EQ(*used.rbegin() + 1, blank.mesh.n_nodes());
  EXPECT_GT(smallest_angles(blank.mesh).minCoeff(), 25 * degree);
}

TEST(MakeBlank, PutsTheAskedNumberOfElementsOverTheBend) {
  for (const double per_bend : {6.0, 12.0}) {
    BlankMeshSpec mesh_spec;
    mesh_spec.elements_per_bend = per_bend;
    const Blank blank = make_blank(bracket_blank(), mesh_spec, bracket_tool());
    const double developed = 3.8 * std::numbers::pi / 2;
    EXPECT_GE(developed / mean_edge(blank, 72, 72 + developed), per_bend);
    EXPECT_LE(developed / mean_edge(blank, 72, 72 + developed), 1.2 * per_bend);
    EXPECT_GT(mean_edge(blank, -50, 20), 4);  // coarse on the web
    EXPECT_THAT(blank.size_reasons, Contains(HasSubstr("outside tool radius of 3 mm")));
  }
}

TEST(MakeBlank, SizesGrowNoFasterThanAsked) {
  BlankMeshSpec mesh_spec;
  mesh_spec.coarsest = 6;
  mesh_spec.elements_per_bend = 6;
  const Blank blank = make_blank(bracket_blank(), mesh_spec, bracket_tool());
  const double fine = 0.995;
  const double band = 3.8 * std::numbers::pi / 2 - 3 + 2 * 1.6;  // beyond the radius between x = 72 and 75
  for (double x = 5; x < 72; x += 5) {
    const double wanted = std::min(6.0, fine + 0.25 * std::max(0.0, 72 - band - x));
    EXPECT_NEAR(mean_edge(blank, x - 1.5, x + 1.5) / wanted, 1, 0.2) << x;
  }
}

TEST(MakeBlank, UniformSizeIsUniform) {
  BlankMeshSpec mesh_spec;
  mesh_spec.uniform = 2;
  const Blank blank = make_blank(bracket_blank(), mesh_spec, bracket_tool());
  for (double x = -40; x < 80; x += 20) EXPECT_NEAR(mean_edge(blank, x, x + 10), 2, 0.1);
  EXPECT_THAT(blank.size_reasons, Contains("2 mm everywhere, as asked"));
}

TEST(MakeBlank, MeshIsIrregular) {
  BlankMeshSpec mesh_spec;
  mesh_spec.uniform = 2;
  const Blank blank = make_blank(bracket_blank(), mesh_spec, bracket_tool());
  std::set<int> directions;  // of edges, in 5 degree classes
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const Eigen::RowVector3d d =
        blank.mesh.nodes.row(blank.edges.nodes(e, 1)) - blank.mesh.nodes.row(blank.edges.nodes(e, 0));
    directions.insert(static_cast<int>(std::fmod(std::atan2(d.y(), d.x()) / degree + 180, 180) / 5));
  }
  EXPECT_GT(directions.size(), 30U);
}

TEST(MakeBlank, TwoCallsGiveTheSameBits) {
  BlankSpec spec = bracket_blank();
  spec.holes = {{{-40, 10}, 4}};
  const Blank first = make_blank(spec, {}, bracket_tool());
  const Blank second = make_blank(spec, {}, bracket_tool());
  EXPECT_TRUE(first.mesh.nodes == second.mesh.nodes);
  EXPECT_TRUE(first.mesh.triangles == second.mesh.triangles);
}

TEST(MakeBlank, SymmetryPlanesCutExactlyAtZeroAlsoThroughHoles) {
  BlankSpec spec;
  spec.outline = CircleOutline{40};
  spec.thickness = 1;
  spec.holes = {{{0, 0}, 8}, {{0, 25}, 3}};
  spec.symmetric_x = spec.symmetric_y = true;

  const Blank blank = make_blank(spec, {}, bracket_tool());

  const double pi = std::numbers::pi;
  EXPECT_NEAR(area_of(blank.mesh), pi * (1600 - 64) / 4 - pi * 9 / 2, 0.01 * pi * 400);
  EXPECT_GE(blank.mesh.nodes.leftCols<2>().minCoeff(), 0);
  EXPECT_NEAR(length_of(blank, EdgeKind::symmetry_x), 32 - 6, 1e-9);
  EXPECT_NEAR(length_of(blank, EdgeKind::symmetry_y), 32, 1e-9);
  EXPECT_NEAR(length_of(blank, EdgeKind::outer), pi * 40 / 2, 0.1);
  EXPECT_NEAR(length_of(blank, EdgeKind::hole), pi * 8 / 2 + pi * 3, 0.3);
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const EdgeKind kind = blank.edge_kind[static_cast<std::size_t>(e)];
    EXPECT_EQ(kind == EdgeKind::interior, !blank.edges.is_boundary(e));
    for (int k = 0; k < 2; ++k) {
      const auto x = blank.mesh.nodes.row(blank.edges.nodes(e, k));
      if (kind == EdgeKind::symmetry_x) {
        EXPECT_EQ(x.x(), 0);
      }
      if (kind == EdgeKind::symmetry_y) {
        EXPECT_EQ(x.y(), 0);
      }
      if (kind == EdgeKind::outer) {
        EXPECT_NEAR(x.head<2>().norm(), 40, 1e-9);
      }
    }
  }
  EXPECT_GT(smallest_angles(blank.mesh).minCoeff(), 25 * degree);
}

TEST(MakeBlank, RoundedPolygonIsPlacedAndTurned) {
  BlankSpec spec;
  spec.outline = PolygonOutline{{{-30, -20}, {30, -20}, {30, 20}, {-30, 20}}, {5, 0, 5, 0}};
  spec.thickness = 1;
  spec.place = {4, 3};
  spec.turn = 30 * degree;
  spec.rolling_angle = 15 * degree;
  const Blank blank = make_blank(spec, {}, bracket_tool());
  EXPECT_NEAR(area_of(blank.mesh), 2400 - 2 * (1 - std::numbers::pi / 4) * 25, 0.5);
  const Vector2d sharp = Vector2d(4, 3) + Eigen::Rotation2Dd(30 * degree) * Vector2d(30, -20);
  const Vector2d rounded = Vector2d(4, 3) + Eigen::Rotation2Dd(30 * degree) * Vector2d(30, 20);
  double to_sharp = 1e9, to_rounded = 1e9;
  for (int i = 0; i < blank.mesh.n_nodes(); ++i) {
    to_sharp = std::min(to_sharp, (blank.mesh.nodes.row(i).head<2>().transpose() - sharp).norm());
    to_rounded = std::min(to_rounded, (blank.mesh.nodes.row(i).head<2>().transpose() - rounded).norm());
  }
  EXPECT_LT(to_sharp, 1e-9);
  EXPECT_NEAR(to_rounded, 5 * (std::sqrt(2.0) - 1), 0.1);
  EXPECT_LT((blank.rolling_direction - Vector2d(std::cos(45 * degree), std::sin(45 * degree))).norm(), 1e-15);
}

TEST(MakeBlank, ClockwiseAndHollowOutlinesAreMeshedToo) {
  BlankSpec spec;
  spec.outline = PolygonOutline{{{-30, -20}, {-30, 20}, {30, 20}, {10, 0}, {30, -20}}, {0, 0, 0, 8, 0}};
  spec.thickness = 1;
  const Blank blank = make_blank(spec, {}, bracket_tool());
  const double cut_in =
      8 * 8 * (1 - std::numbers::pi / 4);  // rounding a hollow right corner adds to the blank
  EXPECT_NEAR(area_of(blank.mesh), 2400 - 400 + cut_in, 0.6);  // the chords of 15 degrees leave 0.57
}

TEST(MakeBlank, TinySidesOfTheOutlineLeaveNoSlivers) {
  BlankSpec spec;
  spec.outline = PolygonOutline{{{-30, -20}, {30, -20}, {30, 20}, {29.97, 20}, {-30, 20}}, {}};
  spec.thickness = 1;
  EXPECT_GT(smallest_angles(make_blank(spec, {}, bracket_tool()).mesh).minCoeff(), 25 * degree);
  // A rounded hollow side that leaves 0.04 mm of straight side, cut by the symmetry plane.
  spec.outline =
      PolygonOutline{{{-55, -34}, {19.9, -34}, {5.49, 0}, {19.9, 34}, {-55, 34}}, {0, 0, 86.9, 0, 0}};
  spec.symmetric_y = true;
  const Blank blank = make_blank(spec, {}, bracket_tool());
  EXPECT_GT(smallest_angles(blank.mesh).minCoeff(), 25 * degree);
  EXPECT_GE(blank.mesh.nodes.col(1).minCoeff(), 0);
  const double rounding =
      86.9 * (std::hypot(14.41, 34) / 34 - 1);  // from the corner to the middle of its arc
  EXPECT_NEAR(length_of(blank, EdgeKind::symmetry_y), 55 + 5.49 + rounding, 1e-9);
}

TEST(MakeBlank, RefusesTheNeedleOfASharpCorner) {
  BlankSpec spec = bracket_blank();
  spec.place = {0, 0};
  spec.outline = PolygonOutline{{{-50, 0}, {50, -0.4}, {50, 0.4}}, {}};  // 0.46 degrees
  EXPECT_THAT(message_of(spec),
              MatchesRegex(
                  "triangle [0-9]+ of the blank, with the corners .-50, 0, 35.8., [^;]* mm, is a needle: its "
                  "smallest angle is 0.458[0-9]+ degrees, at least 1 is needed; round or cut off the sharp "
                  "corner of the outline there, or choose another edge length"));
}

TEST(MakeBlank, RestsOnTheHighestPointUnderItAlsoBetweenNodesOfTheTool) {
  BlankSpec spec;
  spec.outline = RectangleOutline{30, 3, 0};
  spec.thickness = 2;
  ToolSpec cylinder;
  cylinder.shape = CylinderBlock{50, 40, 60};
  const ToolSurface tool = make_tool(cylinder);
  EXPECT_NEAR(make_blank(spec, {}, tool).mesh.nodes(0, 2), 61, 1e-9);
  spec.place = {30, 1};  // from x = 15 on: the crown is not under it
  EXPECT_NEAR(make_blank(spec, {}, tool).mesh.nodes(0, 2), 10 + std::sqrt(2500.0 - 225) + 1, 2e-3);
  ToolSpec cavity;
  cavity.shape = RoundCavity{50, 6, 30, 90};
  spec.outline = CircleOutline{80};
  spec.place = {0, 0};
  EXPECT_NEAR(make_blank(spec, {}, make_tool(cavity)).mesh.nodes(0, 2), 1, 1e-9);
  spec.outline = CircleOutline{45};  // inside the opening, only the floor under it
  try {
    make_blank(spec, {}, make_tool(cavity));
    FAIL() << "accepted";
  } catch (const MeshError& error) {
    EXPECT_THAT(error.what(), HasSubstr("nothing of it is under the blank but its lowest level"));
  }
}

TEST(MakeBlank, NamesThePlaceAndTheMend) {
  BlankSpec spec = bracket_blank();
  spec.thickness = 0;
  EXPECT_THAT(message_of(spec), HasSubstr("thickness of the blank [mm] is 0; give a thickness above zero"));
  spec = bracket_blank();
  spec.place = {500, 0};
  EXPECT_THAT(message_of(spec), HasSubstr("does not lie over the tool"));
  spec.place = {5000, 0};
  EXPECT_THAT(message_of(spec), HasSubstr("does not lie over the tool"));
  spec = bracket_blank();
  spec.place = {-90, 0};
  spec.symmetric_x = true;
  EXPECT_THAT(message_of(spec), HasSubstr("symmetry plane x = 0 leaves nothing of the blank"));
  BlankMeshSpec mesh_spec;
  mesh_spec.elements_per_bend = 0;
  EXPECT_THAT(message_of(bracket_blank(), mesh_spec), HasSubstr("elements over a 90 degree bend is 0"));
  mesh_spec = {};
  mesh_spec.growth = 0;
  EXPECT_THAT(message_of(bracket_blank(), mesh_spec), HasSubstr("growth of the edge length is 0"));
  mesh_spec = {};
  mesh_spec.uniform = -1;
  EXPECT_THAT(message_of(bracket_blank(), mesh_spec), HasSubstr("uniform edge length [mm] is -1"));
}

}  // namespace
}  // namespace halftool::mesh
