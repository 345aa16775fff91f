#include "mesh/facet_net.hpp"

#include <algorithm>

namespace halftool::mesh {
namespace {

constexpr double smooth_limit = 1e-3;  // difference of unit normals

/// One side of a facet: which corner it faces, with the corners in the direction of the edge table.
struct Side {
  int triangle, tail_corner, head_corner;
};

Side side_at(const SurfaceMesh& mesh, const EdgeTable& edges, int edge, int triangle) {
  Side side{triangle, -1, -1};
  for (int i = 0; i < 3; ++i) {
    if (mesh.triangles(triangle, i) == edges.nodes(edge, 0)) side.tail_corner = i;
    if (mesh.triangles(triangle, i) == edges.nodes(edge, 1)) side.head_corner = i;
  }
  return side;
}

class NetBuilder {
 public:
  NetBuilder(const SurfaceMesh& mesh, const Points& normals)
      : mesh_(mesh), normals_(normals), edges_(build_edges(mesh)) {
    const auto n = static_cast<std::size_t>(mesh.n_triangles());
    net_.facets.resize(n);
    net_.sides.resize(n);
    net_.sharp_edges_at.resize(static_cast<std::size_t>(mesh.n_nodes()));
  }

  FacetNet build() {
    for (int t = 0; t < mesh_.n_triangles(); ++t) {
      auto& facet = net_.facets[static_cast<std::size_t>(t)];
      for (int i = 0; i < 3; ++i) {
        facet.corner[static_cast<std::size_t>(i)] = mesh_.nodes.row(mesh_.triangles(t, i));
        facet.normal[static_cast<std::size_t>(i)] = normals_.row(3 * t + i);
      }
    }
    for (int e = 0; e < edges_.n_edges(); ++e) add_edge(e);
    return std::move(net_);
  }

 private:
  [[nodiscard]] Eigen::Vector3d normal(int triangle, int corner) const {
    return normals_.row(3 * triangle + corner);
  }

  void add_edge(int e) {
    const int second = edges_.triangles(e, 1);
    const Side side = side_at(mesh_, edges_, e, edges_.triangles(e, 0));
    const Side other = second < 0 ? side : side_at(mesh_, edges_, e, second);
    const Eigen::Vector3d a = mesh_.nodes.row(edges_.nodes(e, 0));
    const Eigen::Vector3d b = mesh_.nodes.row(edges_.nodes(e, 1));
    const std::array<Eigen::Vector3d, 2> na{normal(side.triangle, side.tail_corner),
                                            normal(other.triangle, other.tail_corner)};
    const std::array<Eigen::Vector3d, 2> nb{normal(side.triangle, side.head_corner),
                                            normal(other.triangle, other.head_corner)};
    const bool smooth = (na[0] - na[1]).norm() < smooth_limit && (nb[0] - nb[1]).norm() < smooth_limit;
    const Eigen::Vector3d middle =
        smooth ? smooth_edge_control(a, na[0], b, nb[0]) : sharp_edge_control(a, na, b, nb);
    net_.largest_bulge = std::max(net_.largest_bulge, (middle - 0.5 * (a + b)).norm());
    if (smooth && second >= 0) {
      sides(side).smooth[facing(side)] = second;
      sides(other).smooth[facing(other)] = side.triangle;
    } else {
      SharpEdge edge{edges_.nodes(e, 0), edges_.nodes(e, 1), a, middle, b, {side.triangle, second}, {}};
      edge.outward = (na[0] + na[1] + nb[0] + nb[1]).normalized();
      add_sharp(edge, side, other);
    }
    net_.facets[static_cast<std::size_t>(side.triangle)].middle[facing(side)] = middle;
    net_.facets[static_cast<std::size_t>(other.triangle)].middle[facing(other)] = middle;
  }

  void add_sharp(const SharpEdge& edge, const Side& side, const Side& other) {
    const auto number = static_cast<int>(net_.sharp_edges.size());
    net_.sharp_edges.push_back(edge);
    sides(side).sharp[facing(side)] = number;
    sides(other).sharp[facing(other)] = number;
    net_.sharp_edges_at[static_cast<std::size_t>(edge.tail)].push_back(number);
    net_.sharp_edges_at[static_cast<std::size_t>(edge.head)].push_back(number);
  }

  static std::size_t facing(const Side& side) {
    return static_cast<std::size_t>(3 - side.tail_corner - side.head_corner);
  }
  FacetSides& sides(const Side& side) { return net_.sides[static_cast<std::size_t>(side.triangle)]; }

  const SurfaceMesh& mesh_;
  const Points& normals_;
  EdgeTable edges_;
  FacetNet net_;
};

}  // namespace

FacetNet build_facet_net(const SurfaceMesh& mesh, const Points& corner_normals) {
  return NetBuilder(mesh, corner_normals).build();
}

}  // namespace halftool::mesh
