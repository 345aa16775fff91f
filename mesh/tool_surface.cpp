#include "mesh/tool_surface.hpp"

#include <cmath>
#include <sstream>
#include <utility>

#include "mesh/closest_triangle.hpp"
#include "mesh/curved_search.hpp"
#include "mesh/facet_net.hpp"

namespace halftool::mesh {

struct ToolSurface::Data {
  SurfaceMesh mesh;
  Points corner_normals;
  FacetNet net;
  TriangleTree tree;
};

namespace {

void check_normals(const SurfaceMesh& mesh, const Points& corner_normals) {
  if (mesh.n_triangles() == 0) throw MeshError("the tool has no facets");
  if (corner_normals.rows() != 3 * mesh.triangles.rows()) {
    throw MeshError("the tool needs three corner normals a facet");
  }
  for (Eigen::Index i = 0; i < corner_normals.rows(); ++i) {
    if (!(std::abs(corner_normals.row(i).norm() - 1) < 1e-6)) {
      std::ostringstream text;
      text << "corner normal " << i % 3 << " of tool facet " << i / 3 << " is not a unit vector";
      throw MeshError(text.str());
    }
  }
}

}  // namespace

ToolSurface::ToolSurface(SurfaceMesh mesh, Points corner_normals) {
  check_normals(mesh, corner_normals);
  FacetNet net = build_facet_net(mesh, corner_normals);
  TriangleTree tree(mesh);
  data_ = std::make_unique<Data>(
      Data{std::move(mesh), std::move(corner_normals), std::move(net), std::move(tree)});
}

ToolSurface::~ToolSurface() = default;
ToolSurface::ToolSurface(ToolSurface&&) noexcept = default;
ToolSurface& ToolSurface::operator=(ToolSurface&&) noexcept = default;

std::optional<ToolPoint> ToolSurface::nearest(const Eigen::Vector3d& x, double within, int likely) const {
  const auto start = data_->tree.closest(x, within + data_->net.largest_bulge, likely);
  if (!start) return std::nullopt;
  const auto contact = find_contact(data_->net, *start, x);
  if (!contact || std::abs(contact->gap) > within) return std::nullopt;
  return ToolPoint{contact->gap, contact->normal, contact->normal_gradient, contact->facet};
}

const SurfaceMesh& ToolSurface::mesh() const {
  return data_->mesh;
}
const Points& ToolSurface::corner_normals() const {
  return data_->corner_normals;
}
const FacetNet& ToolSurface::net() const {
  return data_->net;
}
const TriangleTree& ToolSurface::tree() const {
  return data_->tree;
}
const std::vector<CurvedFacet>& ToolSurface::facets() const {
  return data_->net.facets;
}

}  // namespace halftool::mesh
