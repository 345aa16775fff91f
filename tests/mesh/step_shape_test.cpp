#include "mesh/step_shape.hpp"

#include <gmock/gmock.h>
#include <gmsh.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "mesh/gmsh_session.hpp"
#include "mesh/shut_in.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

namespace occ = gmsh::model::occ;
using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::ThrowsMessage;

/// A STEP file of what is drawn with calls of Gmsh.
class DrawnStep {
 public:
  explicit DrawnStep(const std::function<void()>& draw) : file_("tool.step") {
    const GmshSession session;
    session.run("drawing", [&] {
      draw();
      occ::synchronize();
      gmsh::write(file_.path());
    });
  }
  ToolSurface tool(const Eigen::Vector3d& place = Eigen::Vector3d::Zero()) const {
    StepShape shape{file_.path()};
    shape.placement.place = place;
    ToolSpec spec;
    spec.shape = shape;
    spec.tray_floor = false;
    return make_tool(spec);
  }

 private:
  halftool::testing::PassingFile file_;
};

double volume_of(const SurfaceMesh& mesh) {
  double volume = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0)), b = mesh.nodes.row(mesh.triangles(t, 1)),
                          c = mesh.nodes.row(mesh.triangles(t, 2));
    volume += a.dot(b.cross(c)) / 6;
  }
  return volume;
}

/// A block of 60 x 40 x 30 standing on z = 0 with its top edges cut off by 5 mm, as loose faces, each with
/// edges of its own, but for those whose middles are named.
void draw_loose_faces(const std::vector<Eigen::Vector3d>& lost, double apart = 0) {
  const int block = occ::addBox(-30, -20, 0, 60, 40, 30);
  gmsh::vectorpair out, faces, copies;
  std::vector<int> top;
  occ::synchronize();
  gmsh::vectorpair edges;
  gmsh::model::getEntitiesInBoundingBox(-31, -21, 29, 31, 21, 31, edges, 1);
  for (const auto& [dimension, tag] : edges) top.push_back(tag);
  occ::fillet({block}, top, {5}, out);
  occ::synchronize();
  gmsh::model::getEntities(faces, 2);
  for (const auto& face : faces) {
    Eigen::Vector3d middle;
    occ::getCenterOfMass(face.first, face.second, middle.x(), middle.y(), middle.z());
    bool is_lost = false;
    for (const Eigen::Vector3d& one : lost) is_lost = is_lost || (one - middle).norm() < 4;
    if (is_lost) continue;
    gmsh::vectorpair copy;
    occ::copy({face}, copy);
    if (apart > 0 && middle.z() > 29) occ::translate(copy, 0, 0, apart);
    copies.insert(copies.end(), copy.begin(), copy.end());
  }
  occ::remove(out, true);
}

TEST(StepShape, BodiesThatTouchAreOneBodyWithoutFacesBetweenThem) {
  const DrawnStep file([] {
    occ::addBox(-60, -50, 0, 120, 100, 10);
    occ::addBox(-30, -20, 10, 60, 40, 20);
  });
  const ToolSurface tool = file.tool();
  EXPECT_NEAR(volume_of(tool.mesh()), 120 * 100 * 10 + 60 * 40 * 20, 1e-6);
  const EdgeTable edges = build_edges(tool.mesh());
  for (int e = 0; e < edges.n_edges(); ++e) ASSERT_FALSE(edges.is_boundary(e));
  for (int t = 0; t < tool.mesh().n_triangles(); ++t) {
    const Eigen::Vector3d middle = (tool.mesh().nodes.row(tool.mesh().triangles(t, 0)) +
                                    tool.mesh().nodes.row(tool.mesh().triangles(t, 1)) +
                                    tool.mesh().nodes.row(tool.mesh().triangles(t, 2))) /
                                   3;
    EXPECT_FALSE(std::abs(middle.z() - 10) < 1e-6 && std::abs(middle.x()) < 29 && std::abs(middle.y()) < 19);
  }
  EXPECT_THAT(tool.doubts, IsEmpty());
}

TEST(StepShape, BodiesThatOverlapAreRefusedWithVolumeAndPlaceInTheToolsFrame) {
  const auto refused = [](const DrawnStep& file, const char* volume_and_place) {
    EXPECT_THAT(
        [&] {
          file.tool({100, 0, 0});
        },
        ThrowsMessage<MeshError>(AllOf(HasSubstr("bodies of tool.step overlap by "),
                                       HasSubstr(volume_and_place),
                                       HasSubstr("unite them in the CAD model"))));
  };
  const auto block = [] { occ::addBox(-30, -20, 0, 60, 40, 30); };
  refused(DrawnStep([&] {
            block();
            occ::addBox(-60, -50, 0, 120, 100, 10);
          }),
          "24000 mm3 about (100, 0, 5) mm");
  refused(DrawnStep([&] {
            block();
            occ::addBox(-5, -5, 5, 10, 10, 10);
          }),
          "1000 mm3 about (100, 0, 10) mm");
  refused(DrawnStep([&] {
            block();
            block();
          }),
          "72000 mm3 about (100, 0, 15) mm");
}

TEST(StepShape, ABodyInTheAirAndSurfacesBesideASolidAreDoubts) {
  const DrawnStep hanging([] {
    occ::addBox(-30, -20, 0, 60, 40, 30);
    occ::addBox(-30, -20, 50, 60, 40, 5);
  });
  EXPECT_THAT(hanging.tool().doubts,
              ElementsAre(HasSubstr("a body from (-30, -20, 50) to (30, 20, 55) mm neither stands")));
  const DrawnStep standing([] {
    occ::addBox(-30, -20, 0, 60, 40, 30);
    occ::addBox(40, -20, 0, 10, 40, 5);
  });
  EXPECT_THAT(standing.tool().doubts, IsEmpty());
  const DrawnStep with_face([] {
    occ::addBox(-30, -20, 0, 60, 40, 30);
    occ::addRectangle(-50, -50, 45, 100, 100);
  });
  const ToolSurface tool = with_face.tool();
  EXPECT_THAT(tool.doubts, ElementsAre(HasSubstr("tool.step holds surfaces beside its solids")));
  EXPECT_THAT(tool.notes, Contains(tool.doubts.front()));
  EXPECT_NEAR(tool.mesh().nodes.col(2).maxCoeff(), 30, 1e-9);
}

TEST(StepShape, LooseFacesThatCloseAreSewnToASolid) {
  const ToolSurface tool = DrawnStep([] { draw_loose_faces({}); }).tool();
  const EdgeTable edges = build_edges(tool.mesh());
  for (int e = 0; e < edges.n_edges(); ++e) ASSERT_FALSE(edges.is_boundary(e));
  // The block less what rounds of 5 mm take along edges (corners meet in eighths of spheres).
  const double along = (1 - std::numbers::pi / 4) * 25;
  EXPECT_NEAR(volume_of(tool.mesh()), 72000 - along * 200, 150);
  EXPECT_THAT(tool.doubts, ElementsAre(HasSubstr("joined to a solid")));
  EXPECT_NEAR(tool.nearest({0, 0, 31}, 3)->gap, 1, 1e-9);
}

TEST(StepShape, AnOpenSurfaceIsAToolHalfOnlyWithoutHoles) {
  const ToolSurface no_base = DrawnStep([] { draw_loose_faces({{0, 0, 0}}); }).tool();
  EXPECT_THAT(no_base.doubts, ElementsAre(HasSubstr("surface is open (1 piece)")));
  EXPECT_NEAR(no_base.nearest({0, 0, 31}, 3)->gap, 1, 1e-9);
  EXPECT_GT(no_base.nearest({31, 0, 10}, 3)->normal.x(), 0.999);
  EXPECT_THAT(
      [] {
        DrawnStep([] { draw_loose_faces({{30, 0, 12.5}}); }).tool({100, 0, 0});
      },
      ThrowsMessage<MeshError>(AllOf(HasSubstr("shape from tool.step: the tool's surface has 1 hole"),
                                     HasSubstr("lies about (130, 0, 12.5) mm"))));
  EXPECT_THAT([] { DrawnStep([] {
                     draw_loose_faces({{0, 0, 30}});
                   }).tool(); },
              ThrowsMessage<MeshError>(HasSubstr("lies about (0, 0, 30) mm")));
  EXPECT_THAT([] { DrawnStep([] { draw_loose_faces({}, 0.05); }).tool(); },
              ThrowsMessage<MeshError>(
                  AllOf(HasSubstr("an open seam about 0.05 mm wide"), HasSubstr("export it again"))));
}

/// A block with a hole of 6 mm drilled from below, 15 mm deep and with a tip.
void draw_drilled_block() {
  const int block = occ::addBox(-30, -20, 0, 60, 40, 30);
  const int hole = occ::addCylinder(0, 0, -1, 0, 0, 16, 3);
  const int tip = occ::addCone(0, 0, 15, 0, 0, 1.8, 3, 0);
  gmsh::vectorpair drill, out;
  std::vector<gmsh::vectorpair> map;
  occ::fuse({{3, hole}}, {{3, tip}}, drill, map);
  occ::cut({{3, block}}, drill, out, map);
}

// The tip of the cone turns its normals however small the facets are: tried again for it, the block had
// 200,000.
TEST(StepShape, AHoleDrilledFromBelowHasFewFacetsAndLiesShutIn) {
  const ToolSurface tool = DrawnStep(draw_drilled_block).tool();
  EXPECT_LT(tool.mesh().n_triangles(), 15000);
  EXPECT_LT(tool.geometric_error, 2e-3);
  const double side = std::numbers::pi / 30;  // of a polygon of chords of 6 degrees
  EXPECT_NEAR(volume_of(tool.mesh()), 72000 - std::numbers::pi * 9 * (15 + 0.6) * std::sin(side) / side,
              0.05);
  EXPECT_TRUE(is_shut_in(tool, {0, 0, 5}, 1e-3));
  EXPECT_TRUE(is_shut_in(tool, {2.9, 0, 14.9}, 1e-3));
  EXPECT_FALSE(is_shut_in(tool, {0, 0, 30.1}, 1e-3));
  EXPECT_FALSE(is_shut_in(tool, {30.1, 0, 1}, 1e-3));
  int n_in_hole = 0;
  for (int f = 0; f < tool.mesh().n_triangles(); ++f) {
    const Eigen::Vector3d x = tool.facets()[static_cast<std::size_t>(f)].corner[0];
    const bool in_hole = std::hypot(x.x(), x.y()) < 3.1 && x.z() > 1 && x.z() < 20;
    if (in_hole) ++n_in_hole;
    if (in_hole || x.z() > 29.9) {
      ASSERT_EQ(is_shut_in(tool, f), in_hole) << x.transpose();
    }
  }
  EXPECT_GT(n_in_hole, 100);
}

TEST(StepShape, AHoleThatIsLongForItsDiameterHasLongFacets) {
  const ToolSurface tool = DrawnStep([] {
                             const int block = occ::addBox(-30, -20, 0, 60, 40, 30);
                             const int hole = occ::addCylinder(0, 0, -1, 0, 0, 32, 0.75);
                             gmsh::vectorpair out;
                             std::vector<gmsh::vectorpair> map;
                             occ::cut({{3, block}}, {{3, hole}}, out, map);
                           }).tool();
  EXPECT_LT(tool.mesh().n_triangles(), 20000);
  EXPECT_LT(tool.geometric_error, 1e-4);
  EXPECT_NEAR(tool.nearest({0.25, 0, 20}, 1)->gap, 0.5, 1e-4);
  EXPECT_FALSE(is_shut_in(tool, {0, 0, 5}, 1e-3));  // the sky stands above it
}

}  // namespace
}  // namespace halftool::mesh
