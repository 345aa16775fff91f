#include "mesh/tool_in_sheet.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "mesh/closest_triangle.hpp"
#include "mesh/facet_net.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;

constexpr double aside =
    1e-3;  // of the thickness: a foot that far from square to its triangle lies beyond the border

class SheetFromBelow {
 public:
  SheetFromBelow(const SurfaceMesh& sheet, const Eigen::VectorXd& thickness)
      : sheet_(sheet), thickness_(thickness), tree_(sheet), reach_(thickness.maxCoeff()) {}

  void look_from(const Vector3d& x, ToolInSheet& deepest) const {
    const auto nearest = tree_.closest(x, reach_);
    if (!nearest) return;
    const auto nodes = sheet_.triangles.row(nearest->triangle);
    const Vector3d a = sheet_.nodes.row(nodes(0)), b = sheet_.nodes.row(nodes(1)),
                   c = sheet_.nodes.row(nodes(2));
    const Vector3d foot =
        nearest->barycentric(0) * a + nearest->barycentric(1) * b + nearest->barycentric(2) * c;
    const Vector3d normal = (b - a).cross(c - a).normalized();
    const double height = (x - foot).dot(normal);
    const double half = 0.5 * thickness_(nearest->triangle);
    if ((x - foot - height * normal).norm() > aside * half) return;
    if (height + half > deepest.depth) deepest = {height + half, x};
  }

 private:
  const SurfaceMesh& sheet_;
  const Eigen::VectorXd& thickness_;
  TriangleTree tree_;
  double reach_;
};

bool is_convex(const SharpEdge& edge, const SurfaceMesh& tool) {
  // The far corner of the second facet lies below the first one's plane.
  const auto first = tool.triangles.row(edge.facets[0]), second = tool.triangles.row(edge.facets[1]);
  const Vector3d a = tool.nodes.row(first(0)), b = tool.nodes.row(first(1)), c = tool.nodes.row(first(2));
  for (const int node : second)
    if (node != edge.tail && node != edge.head)
      return (tool.nodes.row(node).transpose() - a).dot((b - a).cross(c - a)) < 0;
  return false;
}

}  // namespace

ToolInSheet deepest_in_sheet(const ToolSurface& tool, const SurfaceMesh& sheet,
                             const Eigen::VectorXd& thickness) {
  const SheetFromBelow view(sheet, thickness);
  ToolInSheet deepest;
  for (Eigen::Index i = 0; i < tool.mesh().nodes.rows(); ++i)
    view.look_from(tool.mesh().nodes.row(i), deepest);
  const double step = 0.5 * thickness.mean();
  for (const SharpEdge& edge : build_facet_net(tool.mesh(), tool.corner_normals()).sharp_edges) {
    if (edge.is_border() || !is_convex(edge, tool.mesh())) continue;
    const int n = std::max(2, static_cast<int>(std::ceil((edge.b - edge.a).norm() / step)));
    for (int i = 1; i < n; ++i) view.look_from(edge.point(static_cast<double>(i) / n), deepest);
  }
  return deepest;
}

}  // namespace halftool::mesh
