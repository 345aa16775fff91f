#include <gmock/gmock.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include "mesh/facet_net.hpp"
#include "mesh/tool_surface.hpp"
#include "tests/support/curved_block.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::ThrowsMessage;

constexpr double degree = std::numbers::pi / 180;

ToolSurface tool_of(const ToolShape& shape, bool tray_floor = true) {
  ToolSpec spec;
  spec.shape = shape;
  spec.tray_floor = tray_floor;
  return make_tool(spec);
}

double volume_of(const SurfaceMesh& mesh) {
  double volume = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)), b = mesh.nodes.row(mesh.triangles(t, 1)),
                   c = mesh.nodes.row(mesh.triangles(t, 2));
    volume += a.dot(b.cross(c)) / 6;
  }
  return volume;
}

double largest_turn(const ToolSurface& tool) {
  double turn = 0;
  for (const auto& facet : tool.facets()) {
    for (std::size_t i = 0; i < 3; ++i) {
      turn = std::max(turn, std::acos(std::min(1.0, facet.normal[i].dot(facet.normal[(i + 1) % 3]))));
    }
  }
  return turn;
}

using StepFile = halftool::testing::PassingFile;

TEST(MakeTool, StraightBlockStandsWhereItsMeasuresPutIt) {
  const ToolSurface tool = tool_of(StraightBlock{150, 60, 35, 3});
  EXPECT_NEAR(tool.nearest({20, 5, 36}, 5)->gap, 1, 1e-12);         // top
  EXPECT_NEAR(tool.nearest({76, 5, 20}, 5)->gap, 1, 1e-12);         // wall at x = 75
  EXPECT_NEAR(tool.nearest({-76, 5, 20}, 5)->gap, 1, 1e-12);        // the other wall
  EXPECT_NEAR(tool.nearest({20, 31, 20}, 5)->gap, 1, 1e-12);        // end face
  EXPECT_NEAR(tool.nearest({90, 40, 0.5}, 5)->gap, 0.5, 1e-12);     // tray
  EXPECT_NEAR(tool.nearest({370, -320, 0.5}, 5)->gap, 0.5, 1e-12);  // still tray: two largest extents beyond
  const double s = std::sin(0.7), c = std::cos(0.7);
  const auto at_edge = tool.nearest({72 + 4 * s, 5, 32 + 4 * c}, 5);
  EXPECT_NEAR(at_edge->gap, 1, 3e-5);
  EXPECT_LT((at_edge->normal - Vector3d(s, 0, c)).norm(), 3e-5);
  EXPECT_LT(tool.geometric_error, 1e-5 * 3);
  EXPECT_GT(tool.geometric_error, 0);
  EXPECT_LE(largest_turn(tool), 6.01 * degree);
  EXPECT_THAT(tool.notes, ::testing::Contains(HasSubstr("edge radius 3 mm")));
}

TEST(MakeTool, WithoutTrayFloorTheBlockIsClosedAndOutwardWithItsExactVolume) {
  const ToolSurface tool = tool_of(StraightBlock{100, 40, 30, 4}, false);
  const double corner = (1 - std::numbers::pi / 4) * 16;
  EXPECT_NEAR(volume_of(tool.mesh()), 40 * (3000 - 2 * corner), 5);
  const EdgeTable edges = build_edges(tool.mesh());
  for (int e = 0; e < edges.n_edges(); ++e) ASSERT_FALSE(edges.is_boundary(e));
}

TEST(MakeTool, OverBentWallLeansInFromTheEndOfItsRadius) {
  const double angle = 95 * degree;
  const ToolSurface tool = tool_of(StraightBlock{80, 30, 25, 5, angle});
  const Vector3d normal(std::sin(angle), 0, std::cos(angle));
  const Vector3d wall_top(35 + 5 * std::sin(angle), 0, 20 + 5 * std::cos(angle));
  const Vector3d down(std::cos(angle), 0, -std::sin(angle));
  const auto point = tool.nearest(wall_top + 8 * down + 0.7 * normal, 3);
  ASSERT_TRUE(point.has_value());
  EXPECT_NEAR(point->gap, 0.7, 1e-12);
  EXPECT_LT((point->normal - normal).norm(), 1e-9);
  EXPECT_LT(point->normal.z(), 0);
  EXPECT_NEAR(tool.nearest({40.5, 0, 20}, 3)->gap, 0.5, 1e-4);  // widest at the height of the radius' axis
}

TEST(MakeTool, AnInsertThatOverlapsIsRefusedWithVolumeAndPlace) {
  ToolSpec spec;
  spec.shape = StraightBlock{60, 40, 30, 3};
  spec.inserts = {StraightBlock{30, 40, 20, 3}};
  EXPECT_THAT([&] { make_tool(spec); },
              ThrowsMessage<MeshError>(AllOf(HasSubstr("overlaps the tool by "), HasSubstr(" mm3 about ("))));
}

TEST(MakeTool, CylinderBlockHasItsCrownOnTopWithAndWithoutWalls) {
  for (const double height : {50.0, 60.0}) {
    const ToolSurface tool = tool_of(CylinderBlock{50, 40, height});
    EXPECT_EQ(tool.mesh().nodes.col(2).maxCoeff(), height);
    const double s = std::sin(0.5), c = std::cos(0.5);
    const auto point = tool.nearest({51 * s, 3, height - 50 + 51 * c}, 3);
    EXPECT_NEAR(point->gap, 1, 1e-5 * 50);
    EXPECT_NEAR(point->normal_gradient.trace(), 1.0 / 51, 1e-2 / 51);
  }
}

TEST(MakeTool, RoundCavityOpensDownwardWithARoundedLip) {
  const ToolSurface tool = tool_of(RoundCavity{50, 6, 30, 90});
  EXPECT_NEAR(tool.nearest({70, 0, 1}, 3)->gap, 1, 1e-12);       // rim
  EXPECT_NEAR(tool.nearest({0, 0, -29.5}, 3)->gap, 0.5, 1e-12);  // floor
  const double turn = 0.3;
  const Vector3d out(std::cos(turn), std::sin(turn), 0);
  const auto wall = tool.nearest(49 * out - 20 * Vector3d::UnitZ(), 3);
  EXPECT_NEAR(wall->gap, 1, 1e-3);
  EXPECT_LT((wall->normal + out).norm(), 1e-3);
  const Vector3d n = (-out + Vector3d::UnitZ()).normalized();
  const auto lip = tool.nearest(56 * out - 6 * Vector3d::UnitZ() + 7 * n, 3);
  EXPECT_NEAR(lip->gap, 1, 1e-3);
  EXPECT_LT((lip->normal - n).norm(), 2e-3);
  EXPECT_LT(tool.geometric_error, 1e-4);
}

TEST(MakeTool, NormalsAreOneOnBothSidesOfTangentEdgesAndTwoAtSharpOnes) {
  const ToolSurface tool = tool_of(StraightBlock{100, 40, 30, 4});
  const EdgeTable edges = build_edges(tool.mesh());
  int n_sharp = 0, n_smooth = 0;
  for (int e = 0; e < edges.n_edges(); ++e) {
    if (edges.is_boundary(e)) continue;
    const Vector3d middle =
        0.5 * (tool.mesh().nodes.row(edges.nodes(e, 0)) + tool.mesh().nodes.row(edges.nodes(e, 1)));
    double jump = 0;
    for (int k = 0; k < 2; ++k) {
      std::array<Vector3d, 2> normal;
      for (std::size_t side = 0; side < 2; ++side) {
        const int t = edges.triangles(e, static_cast<int>(side));
        for (int i = 0; i < 3; ++i) {
          if (tool.mesh().triangles(t, i) == edges.nodes(e, k))
            normal[side] = tool.corner_normals().row(3 * t + i);
        }
      }
      jump = std::max(jump, (normal[0] - normal[1]).norm());
    }
    const bool at_end_face = std::abs(std::abs(middle.y()) - 20) < 1e-9 && jump > 0.5;
    (at_end_face ? n_sharp : n_smooth) += 1;
    if (!at_end_face) {
      EXPECT_EQ(jump, 0) << middle.transpose();
    }
  }
  EXPECT_GT(n_sharp, 20);
  EXPECT_GT(n_smooth, 500);
}

TEST(MakeTool, TwoCallsGiveTheSameBits) {
  const ToolSurface first = tool_of(RoundCavity{30, 5, 20, 60});
  const ToolSurface second = tool_of(RoundCavity{30, 5, 20, 60});
  EXPECT_TRUE(first.mesh().nodes == second.mesh().nodes);
  EXPECT_TRUE(first.mesh().triangles == second.mesh().triangles);
  EXPECT_TRUE(first.corner_normals() == second.corner_normals());
}

TEST(MakeTool, FinerFacetAngleLowersTheErrorWithItsFourthPower) {
  ToolSpec spec;
  spec.shape = CylinderBlock{50, 40, 60};
  spec.facet_angle = 10 * degree;
  const double coarse = make_tool(spec).geometric_error;
  spec.facet_angle = 5 * degree;
  const double fine = make_tool(spec).geometric_error;
  EXPECT_NEAR(std::log2(coarse / fine), 4, 0.2);
}

TEST(MakeTool, StepBlockReadsBackWithItsFilletWhereItWasPut) {
  const StepFile file("block.step");
  halftool::testing::write_step({}, file.path());
  StepShape shape;
  shape.path = file.path();
  shape.placement.place = {10, -20, 5};
  shape.placement.turn = 90 * degree;
  const ToolSurface tool = tool_of(shape);
  // In the file's frame: hollow wall of radius 100 about (100, 0), top at 30, edge radius 4.
  const auto placed = [&](const Vector3d& x) -> Vector3d {
    return Vector3d(-x.y(), x.x(), x.z()) + shape.placement.place;
  };
  EXPECT_NEAR(tool.nearest(placed({-30, 0, 31}), 3)->gap, 1, 1e-9);
  const Vector3d along(-std::cos(0.2), std::sin(0.2), 0);  // from the arc's centre to the wall
  const Vector3d centre(100, 0, 0);
  EXPECT_NEAR(tool.nearest(placed(centre + 99 * along + 15 * Vector3d::UnitZ()), 3)->gap, 1, 1e-4);
  const Vector3d n = (-along + Vector3d::UnitZ()).normalized();
  const auto at_fillet = tool.nearest(placed(centre + 104 * along + 26 * Vector3d::UnitZ() + 5 * n), 3);
  EXPECT_NEAR(at_fillet->gap, 1, 1e-4);
  EXPECT_NEAR(tool.nearest(placed({40, 0, 0.25}), 3)->gap, 0.25, 1e-9);  // tray at the file's lowest point
  EXPECT_LT(tool.geometric_error, 4e-5);
  EXPECT_LE(largest_turn(tool), 6.2 * degree);
}

TEST(MakeTool, GapAndNormalAreContinuousOverAnIrregularStepFillet) {
  const StepFile file("fillet.step");
  halftool::testing::write_step({}, file.path());
  StepShape shape;
  shape.path = file.path();
  const ToolSurface tool = tool_of(shape);
  // A path over the fillet at 0.6 mm: neighbouring points may differ by the turn of the normal, not by a
  // jump.
  const int n = 40000;
  Vector3d last = Vector3d::Zero();
  for (int k = 0; k <= n; ++k) {
    const double turn = 1.45 * k / n + 0.05, ring = 0.3 * std::sin(3.0 * k / n);
    const Vector3d along(-std::cos(ring), std::sin(ring), 0);
    const Vector3d normal = -std::sin(turn) * along + std::cos(turn) * Vector3d::UnitZ();
    const Vector3d x = Vector3d(100, 0, 26) + 104 * along + 4.6 * normal;
    const auto point = tool.nearest(x, 3);
    ASSERT_TRUE(point.has_value());
    ASSERT_NEAR(point->gap, 0.6, 2e-4);
    ASSERT_LT((point->normal - normal).norm(), 3e-3);
    if (k > 0) {
      ASSERT_LT((point->normal - last).norm(), 6e-5);
    }
    last = point->normal;
  }
}

TEST(MakeTool, BlockOfTheCurvedFlangeCaseIsWhatItsGeneratorWrites) {
  const StepFile file("again.step");
  halftool::testing::write_step({}, file.path());
  std::stringstream again, kept;
  again << std::ifstream(file.path()).rdbuf();
  kept << std::ifstream(std::string(HALFTOOL_CASES) + "/curved_flange/block.step").rdbuf();
  ASSERT_FALSE(kept.str().empty());
  EXPECT_EQ(again.str(), kept.str());
}

TEST(MakeTool, NamesWhatIsWrongAndTheMend) {
  const auto message = [](const ToolShape& shape) {
    try {
      tool_of(shape);
    } catch (const MeshError& error) {
      return std::string(error.what());
    }
    return std::string("no error");
  };
  EXPECT_THAT(message(StraightBlock{0, 60, 35, 3}), HasSubstr("length of the tool is 0 mm"));
  EXPECT_THAT(message(StraightBlock{150, -1, 35, 3}), HasSubstr("width of the tool is -1 mm"));
  EXPECT_THAT(message(StraightBlock{10, 60, 35, 5}), HasSubstr("less than half the block's length of 10 mm"));
  EXPECT_THAT(message(StraightBlock{150, 60, 2, 3}), HasSubstr("the edge radius alone takes 3 mm"));
  EXPECT_THAT(message(StraightBlock{150, 60, 35, 3, 170 * degree}), HasSubstr("between 5 and 150 degrees"));
  EXPECT_THAT(message(StraightBlock{30, 60, 60, 3, 120 * degree}), HasSubstr("meet above the floor"));
  EXPECT_THAT(message(CylinderBlock{50, 40, 49}), HasSubstr("at least the radius of 50 mm"));
  EXPECT_THAT(message(RoundCavity{50, 6, 5, 90}), HasSubstr("must not exceed the cavity's depth of 5 mm"));
  EXPECT_THAT(message(RoundCavity{50, 6, 30, 55}), HasSubstr("already reach 56 mm"));
  EXPECT_THAT(message(StepShape{"no/such.step"}), HasSubstr("there is no STEP file 'no/such.step'"));
  ToolSpec spec;
  spec.shape = StraightBlock{150, 60, 35, 3};
  spec.facet_angle = 0;
  EXPECT_THAT([&] { make_tool(spec); }, ThrowsMessage<MeshError>(HasSubstr("between 0.3 and 45 degrees")));
}

TEST(MakeTool, UnreadableStepFileIsAnErrorAndTheNextToolStillWorks) {
  const StepFile file("garbage.step");
  std::ofstream(file.path()) << "this is not STEP\n";
  StepShape shape;
  shape.path = file.path();
  ::testing::internal::CaptureStdout();
  EXPECT_THAT([&] { tool_of(shape); }, ThrowsMessage<MeshError>(HasSubstr("cannot be read as STEP")));
  EXPECT_EQ(::testing::internal::GetCapturedStdout(), "");
  EXPECT_NO_THROW(tool_of(CylinderBlock{50, 40, 60}));
}

TEST(MakeTool, OneForMeasuringHasFewerFacetsOnPlanesAndTheSameRadii) {
  ToolSpec spec;
  spec.shape = RoundCavity{40, 6, 25, 90};
  const ToolSurface pressed_on = make_tool(spec);
  spec.for_measuring = true;
  const ToolSurface measured = make_tool(spec);
  EXPECT_LT(measured.mesh().n_triangles(), 0.9 * pressed_on.mesh().n_triangles());
  const auto known = find_radii(pressed_on), found = find_radii(measured);
  ASSERT_EQ(found.size(), known.size());
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_NEAR(found[i].radius, known[i].radius, 1e-9);
    EXPECT_EQ(found[i].facets.size(), known[i].facets.size());
  }
  EXPECT_NEAR(volume_of(measured.mesh()), volume_of(pressed_on.mesh()), 1e-3);
  EXPECT_TRUE(std::isnan(measured.geometric_error));
}

/// Of the found radii of one kind the one nearest to a CAD radius [mm]; 0 where there is none.
double nearest_radius(const ToolSurface& tool, double radius, bool convex) {
  double nearest = 0;
  for (const RadiusPatch& patch : find_radii(tool))
    if (patch.convex == convex && std::abs(patch.radius - radius) < std::abs(nearest - radius))
      nearest = patch.radius;
  return nearest;
}

ToolSpec spec_of(const std::string& path, bool for_measuring) {
  ToolSpec spec;
  spec.shape = StepShape{path};
  spec.tray_floor = false;
  spec.for_measuring = for_measuring;
  return spec;
}

TEST(MakeTool, MeasuredFilletsInRowsAndColumnsHaveTheRadiiOfTheCadAndFewerFacets) {
  for (const bool concave : {true, false}) {
    halftool::testing::CurvedBlock block;
    block.concave = concave;
    const StepFile file("rows.step");
    halftool::testing::write_step(block, file.path());
    const ToolSurface pressed_on = make_tool(spec_of(file.path(), false));
    const ToolSurface measured = make_tool(spec_of(file.path(), true));
    EXPECT_LT(measured.mesh().n_triangles(), 0.4 * pressed_on.mesh().n_triangles());
    EXPECT_NEAR(nearest_radius(measured, 4, true), 4, 0.004 * 4);
    EXPECT_NEAR(nearest_radius(measured, 100, !concave), 100, 0.001 * 100);
    EXPECT_LT(largest_turn(measured), 1.05 * 6 * degree);
    // Chords of 6 degrees along the wall, 90 mm wide and 30 mm high, cut off so much of its arc at most.
    const double cut_off = 90 * 30 * 100 * std::pow(6 * degree, 2) / 12;
    EXPECT_NEAR(volume_of(measured.mesh()), volume_of(pressed_on.mesh()), cut_off);
  }
}

// A torus and a cylinder that go all round; three rings with a cone between, whose radius grows with the
// plan's.
TEST(MakeTool, MeasuredRingsHaveTheRadiiOfTheCad) {
  const std::string cases = HALFTOOL_CASES;
  const ToolSurface hole = make_tool(spec_of(cases + "/flanged_hole/block.step", true));
  EXPECT_NEAR(nearest_radius(hole, 3.2, true), 3.2, 0.004 * 3.2);
  EXPECT_NEAR(nearest_radius(hole, 30, false), 30, 0.001 * 30);
  EXPECT_TRUE(std::none_of(hole.net().sharp_edges.begin(), hole.net().sharp_edges.end(),
                           [](const SharpEdge& edge) { return edge.is_border(); }));
  const ToolSurface rib = make_tool(spec_of(cases + "/curved_rib/block.step", true));
  EXPECT_NEAR(nearest_radius(rib, 21, false), 21, 0.001 * 21);
  const double least = 21 * std::numbers::sqrt2;  // of the cone of 45 degrees
  EXPECT_GT(nearest_radius(rib, least, false), 0.999 * least);
  EXPECT_LT(nearest_radius(rib, least, false), 1.04 * least);
}

TEST(MakeTool, FacesOfSplinesAreMeasuredWithFewerFacetsAndTheRadiiOfTheCad) {
  const std::string path = std::string(HALFTOOL_CASES) + "/tight_box/block.step";
  const ToolSurface box = make_tool(spec_of(path, true));
  EXPECT_NEAR(nearest_radius(box, 7, true), 7, 0.008 * 7);
  EXPECT_NEAR(nearest_radius(box, 8, false), 8, 0.008 * 8);
  EXPECT_LT(box.mesh().n_triangles(), 35000);
}

}  // namespace
}  // namespace halftool::mesh
