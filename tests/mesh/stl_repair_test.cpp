// What is mended in a tool half from STL, and what is refused, each with its message.
#include <gmock/gmock.h>

#include <Eigen/Geometry>

#include "mesh/tool_surface.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

using Eigen::RowVector3d;
using Eigen::Vector3d;
using halftool::testing::faceted_block;
using halftool::testing::loose_facets;
using halftool::testing::PassingFile;
using halftool::testing::shaken;
using ::testing::AllOf;
using ::testing::Contains;
using ::testing::Each;
using ::testing::HasSubstr;
using ::testing::Not;

ToolSurface tool_from(const SurfaceMesh& facets, bool tray_floor = true, double unit = 1) {
  const PassingFile file("repair.stl");
  halftool::testing::write_binary_stl(facets, file.path());
  ToolSpec spec;
  spec.shape = StlShape{file.path(), unit};
  spec.tray_floor = tray_floor;
  return make_tool(spec);
}

std::string message(const SurfaceMesh& facets, bool tray_floor = true) {
  try {
    tool_from(facets, tray_floor);
  } catch (const MeshError& error) {
    return error.what();
  }
  return "no error";
}

void add_facets(SurfaceMesh& mesh, const SurfaceMesh& more) {
  const Eigen::Index n = mesh.nodes.rows(), m = mesh.triangles.rows();
  mesh.nodes.conservativeResize(n + more.nodes.rows(), 3);
  mesh.nodes.bottomRows(more.nodes.rows()) = more.nodes;
  mesh.triangles.conservativeResize(m + more.triangles.rows(), 3);
  mesh.triangles.bottomRows(more.triangles.rows()) = more.triangles.array() + static_cast<int>(n);
}

void add_facet(SurfaceMesh& mesh, const RowVector3d& a, const RowVector3d& b, const RowVector3d& c) {
  SurfaceMesh one;
  one.nodes.resize(3, 3);
  one.nodes << a, b, c;
  one.triangles.resize(1, 3);
  one.triangles << 0, 1, 2;
  add_facets(mesh, one);
}

void drop_facet(SurfaceMesh& mesh, int t) {
  mesh.triangles.row(t) = mesh.triangles.row(mesh.n_triangles() - 1);
  mesh.triangles.conservativeResize(mesh.n_triangles() - 1, 3);
}

/// The facet of the top, which is at z = 35, that lies under x.
int facet_under(const SurfaceMesh& mesh, double x, double y) {
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Vector3d at(x, y, 35);
    bool within = true;
    for (int i = 0; i < 3; ++i) {
      const Vector3d a = mesh.nodes.row(mesh.triangles(t, i)),
                     b = mesh.nodes.row(mesh.triangles(t, (i + 1) % 3));
      within = within && a.z() > 34.999 && (b - a).cross(at - a).z() > 0;
    }
    if (within) return t;
  }
  return -1;
}

/// Replaces a facet by the three around a point of it.
void split_facet(SurfaceMesh& mesh, int t, const RowVector3d& at) {
  SurfaceMesh parts;
  parts.nodes.resize(4, 3);
  for (int i = 0; i < 3; ++i) parts.nodes.row(i) = mesh.nodes.row(mesh.triangles(t, i));
  parts.nodes.row(3) = at;
  parts.triangles.resize(3, 3);
  parts.triangles << 0, 1, 3, 1, 2, 3, 2, 0, 3;
  drop_facet(mesh, t);
  add_facets(mesh, parts);
}

void expect_whole(const ToolSurface& tool) {
  EXPECT_NEAR(tool.nearest({5, 3, 36}, 3)->gap, 1, 1e-5);
  EXPECT_NEAR(tool.nearest({31, 0, 15}, 3)->gap, 1, 1e-5);
  EXPECT_NEAR(tool.nearest({-31, 3, 15}, 3)->gap, 1, 1e-5);
  EXPECT_NEAR(tool.nearest({3, 21, 15}, 3)->gap, 1, 1e-5);
}

TEST(StlRepair, ASoundFileNeedsNone) {
  const ToolSurface tool = tool_from(faceted_block({}));
  expect_whole(tool);
  EXPECT_THAT(tool.notes, Each(Not(HasSubstr("repaired"))));
  EXPECT_THAT(tool.notes, Each(Not(HasSubstr("open"))));
}

TEST(StlRepair, CornersThatDifferByRoundingAreMerged) {
  SurfaceMesh block = loose_facets(faceted_block({}));
  block.nodes(4, 0) += 3e-5;
  const ToolSurface tool = tool_from(block, false);
  expect_whole(tool);
  EXPECT_THAT(tool.notes,
              Contains(AllOf(HasSubstr("repaired: 1 corner"), HasSubstr("merged with one within"))));
  EXPECT_EQ(tool.mesh().n_nodes(), faceted_block({}).n_nodes());
}

TEST(StlRepair, FacetsWithoutAreaAreDroppedAndLeaveNoJoint) {
  SurfaceMesh block = faceted_block({});
  const int t = facet_under(block, 5, 3);
  ASSERT_GE(t, 0);
  // The facet cut in two at the middle of a side, and a facet without area that reaches along that side.
  const RowVector3d a = block.nodes.row(block.triangles(t, 0)), b = block.nodes.row(block.triangles(t, 1)),
                    c = block.nodes.row(block.triangles(t, 2)), middle = 0.5 * (a + b);
  drop_facet(block, t);
  add_facet(block, a, middle, c);
  add_facet(block, middle, b, c);
  add_facet(block, a, b, middle);
  const ToolSurface tool = tool_from(block, false);
  expect_whole(tool);
  EXPECT_THAT(tool.notes,
              Contains(AllOf(HasSubstr("repaired: 1 facet without area dropped"), HasSubstr(", 35) mm"))));
  EXPECT_THAT(tool.notes, Each(Not(HasSubstr("open"))));
  // The same without the third facet leaves a joint, which is closed by splitting the neighbour.
  block.triangles.conservativeResize(block.n_triangles() - 1, 3);
  const ToolSurface joined = tool_from(block, false);
  expect_whole(joined);
  EXPECT_THAT(joined.notes, Contains(HasSubstr("repaired: 1 facet split at a corner on its side")));
  EXPECT_THAT(joined.notes, Each(Not(HasSubstr("open"))));
}

TEST(StlRepair, FacetsGivenTwiceAreDropped) {
  SurfaceMesh block = faceted_block({});
  SurfaceMesh twice = block;
  twice.triangles = block.triangles.middleRows(7, 2);
  add_facets(block, twice);
  const ToolSurface tool = tool_from(block);
  expect_whole(tool);
  EXPECT_THAT(tool.notes, Contains(HasSubstr("repaired: 2 facets given twice dropped")));
}

TEST(StlRepair, FacetsThatDisagreeAreTurnedOver) {
  SurfaceMesh block = faceted_block({});
  std::swap(block.triangles(5, 1), block.triangles(5, 2));
  std::swap(block.triangles(9, 1), block.triangles(9, 2));
  const ToolSurface tool = tool_from(block);
  expect_whole(tool);
  EXPECT_THAT(tool.notes,
              Contains(HasSubstr("repaired: 2 of 132 facets turned over to look outward, the first at (")));
}

TEST(StlRepair, AClosedToolThatLooksInwardIsTurnedOver) {
  SurfaceMesh block = faceted_block({});
  block.triangles.col(1).swap(block.triangles.col(2));
  const ToolSurface tool = tool_from(block);
  expect_whole(tool);
  EXPECT_THAT(tool.notes, Contains(HasSubstr("all facets looked into the tool and were turned over")));
}

/// The block with its end at y = -20 as a sheet of its own, moved.
SurfaceMesh block_with_end_moved(const RowVector3d& by) {
  SurfaceMesh block = faceted_block({});
  SurfaceMesh end = block, rest = block;
  int n_end = 0, n_rest = 0;
  for (int t = 0; t < block.n_triangles(); ++t) {
    bool at_end = true;
    for (int i = 0; i < 3; ++i) at_end = at_end && block.nodes(block.triangles(t, i), 1) < -19;
    (at_end ? end.triangles.row(n_end++) : rest.triangles.row(n_rest++)) = block.triangles.row(t);
  }
  end.triangles.conservativeResize(n_end, 3);
  rest.triangles.conservativeResize(n_rest, 3);
  end.nodes.rowwise() += by;
  add_facets(rest, end);
  return rest;
}

TEST(StlRepair, AnOpenSeamIsClosed) {
  const ToolSurface tool = tool_from(block_with_end_moved({0, -0.005, 0}));
  expect_whole(tool);
  EXPECT_THAT(tool.notes, Contains(HasSubstr("corners of open seams merged, the first at (")));
  EXPECT_THAT(tool.notes, Each(Not(HasSubstr("the tool's surface is open"))));
}

TEST(StlRepair, AWideOpenSeamIsNamedAsOne) {
  for (const double by : {-0.3, -0.05, 0.02}) {
    EXPECT_THAT(message(block_with_end_moved({0, by, 0})),
                AllOf(HasSubstr("the tool's surface has an open seam about "),
                      HasSubstr("about " +
                                std::string(by < -0.1 ? "0.3"
                                            : by < 0  ? "0.05"
                                                      : "0.02") +
                                " mm wide, at ("),
                      HasSubstr("seams up to 0.008"), HasSubstr("join the faces in the CAD model")));
  }
}

// Every facet a sheet of its own: some corners are merged and some are not, so that the surface crosses
// itself at the least noise, and branches at more.
TEST(StlRepair, ManyOpenSeamsAreNamedAsOne) {
  for (const double by : {0.01, 0.02, 0.05, 0.2}) {
    EXPECT_THAT(message(shaken(loose_facets(faceted_block({})), by)),
                AllOf(HasSubstr("the tool's surface has "), HasSubstr("an open seam about 0."),
                      HasSubstr("join the faces in the CAD model")))
        << by;
  }
}

TEST(StlRepair, SmallHolesAreFilledAndLargeOnesRefused) {
  for (const double size : {0.2, 8.0}) {
    SurfaceMesh block = faceted_block({});
    split_facet(block, facet_under(block, 10, -12), {10, -12, 35});
    split_facet(block, facet_under(block, 10 - 0.2 * size, -12), {10 - 0.5 * size, -12, 35});
    split_facet(block, facet_under(block, 10 - 0.2 * size, -12 + 0.05 * size),
                {10 - 0.25 * size, -12 + 0.5 * size, 35});
    drop_facet(block, facet_under(block, 10 - 0.25 * size, -12 + 0.2 * size));
    if (size < 1) {
      const ToolSurface tool = tool_from(block);
      expect_whole(tool);
      EXPECT_NEAR(tool.nearest({10 - 0.25 * size, -12 + 0.2 * size, 35.5}, 3)->gap, 0.5, 1e-5);
      EXPECT_THAT(tool.notes, Contains(AllOf(HasSubstr("repaired: 1 hole of at most 0.8"),
                                             HasSubstr("filled, the first about (9.9"))));
    } else {
      EXPECT_THAT(message(block),
                  AllOf(HasSubstr("1 hole too large to be filled (0.8"), HasSubstr("5.65685 mm across"),
                        HasSubstr("about (8, -10, 35) mm: close it in the CAD model")));
    }
  }
}

TEST(StlRepair, AToolWithoutItsBaseIsTakenOverATrayFloor) {
  SurfaceMesh block = faceted_block({});
  for (int t = block.n_triangles() - 1; t >= 0; --t) {
    double high = 0;
    for (int i = 0; i < 3; ++i) high = std::max(high, block.nodes(block.triangles(t, i), 2));
    if (high < 1e-9) drop_facet(block, t);
  }
  expect_whole(tool_from(block));
  block.triangles.col(1).swap(block.triangles.col(2));
  expect_whole(tool_from(block));  // turned up, for it is open
}

TEST(StlRepair, AnEdgeOfThreeFacetsIsRefused) {
  SurfaceMesh block = faceted_block({});
  add_facet(block, block.nodes.row(2), block.nodes.row(3), RowVector3d(60, 3, 50));
  EXPECT_THAT(message(block),
              AllOf(HasSubstr("branches at the edge from ("), HasSubstr("export it as one solid")));
}

TEST(StlRepair, BodiesThatOverlapAreRefused) {
  SurfaceMesh two = faceted_block({});
  SurfaceMesh other = two;
  other.nodes.rowwise() += RowVector3d(20, 5, 3);
  add_facets(two, other);
  EXPECT_THAT(message(two),
              AllOf(HasSubstr("the tool's surface crosses itself ("), HasSubstr("unite the bodies")));
}

TEST(StlRepair, APieceWithinAnotherIsRefusedAndOneBesideItTaken) {
  SurfaceMesh two = faceted_block({});
  SurfaceMesh other = two;
  other.nodes *= 0.5;
  other.nodes.col(2).array() += 5;
  SurfaceMesh nested = two;
  add_facets(nested, other);
  EXPECT_THAT(message(nested),
              AllOf(HasSubstr("lies within another, about ("), HasSubstr("leave out the inner one")));
  other.nodes.rowwise() += RowVector3d(100, 0, -5);
  add_facets(two, other);
  const ToolSurface tool = tool_from(two);
  EXPECT_NEAR(tool.nearest({100, 0, 18.5}, 3)->gap, 1, 1e-5);
}

TEST(StlRepair, NothingWithAnAreaIsRefused) {
  SurfaceMesh lines = faceted_block({});
  lines.nodes.col(0).setZero();
  lines.nodes.col(1).setZero();
  EXPECT_THAT(message(lines), HasSubstr("no facet of the STL file has an area"));
  lines.nodes.setConstant(3);
  EXPECT_THAT(message(lines), HasSubstr("no facet of the STL file has an area"));
}

}  // namespace
}  // namespace halftool::mesh
