#include "solver/assessment/edge_limit.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

namespace halftool::solver {
namespace {

bool is_judged(const mesh::Blank& blank, int edge) {
  if (!blank.edges.is_boundary(edge)) return false;
  const mesh::EdgeKind kind = blank.edge_kind[static_cast<std::size_t>(edge)];
  return kind == mesh::EdgeKind::hole || kind == mesh::EdgeKind::trimmed ||
         (kind == mesh::EdgeKind::outer && !blank.rim_held);
}

double length(const mesh::EdgeTable& edges, int edge, const mesh::Points& points) {
  return (points.row(edges.nodes(edge, 1)) - points.row(edges.nodes(edge, 0))).norm();
}

/// Triangles sorted into cubes as wide as the distance over which values are averaged.
class Neighbourhood {
 public:
  Neighbourhood(const SheetFields& fields, double distance) : distance_(distance) {
    const Eigen::Index n = fields.triangles.rows();
    middles_.resize(n, 3);
    areas_.resize(n);
    for (Eigen::Index t = 0; t < n; ++t) {
      const auto corner = [&](int i) -> Eigen::Vector3d {
        return fields.positions.row(fields.triangles(t, i));
      };
      middles_.row(t) = (corner(0) + corner(1) + corner(2)) / 3;
      areas_(t) = (corner(1) - corner(0)).cross(corner(2) - corner(0)).norm() / 2;
      cubes_[cube_of(t)].push_back(t);
    }
  }

  /// Mean of rows by area over the triangles whose middle lies within the distance.
  [[nodiscard]] Eigen::RowVector3d mean(const Eigen::MatrixX3d& values, Eigen::Index triangle) const {
    Eigen::RowVector3d sum = Eigen::RowVector3d::Zero();
    double area = 0;
    const Cube here = cube_of(triangle);
    for (int i = 0; i < 27; ++i) {
      const auto cube = cubes_.find({here[0] + i % 3 - 1, here[1] + i / 3 % 3 - 1, here[2] + i / 9 - 1});
      if (cube == cubes_.end()) continue;
      for (const Eigen::Index t : cube->second) {
        if ((middles_.row(t) - middles_.row(triangle)).norm() > distance_) continue;
        sum += areas_(t) * values.row(t);
        area += areas_(t);
      }
    }
    return sum / area;
  }

 private:
  using Cube = std::array<long, 3>;
  [[nodiscard]] Cube cube_of(Eigen::Index t) const {
    Cube cube{};
    for (int i = 0; i < 3; ++i)
      cube[static_cast<std::size_t>(i)] = std::lround(std::floor(middles_(t, i) / distance_));
    return cube;
  }

  double distance_;
  Eigen::MatrixX3d middles_;
  Eigen::VectorXd areas_;
  std::map<Cube, std::vector<Eigen::Index>> cubes_;
};

}  // namespace

std::vector<EdgeStrain> edge_strains(const mesh::Blank& blank, const SheetFields& fields) {
  const mesh::Points flat = fields.positions - fields.displacement;
  std::vector<EdgeStrain> strains;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!is_judged(blank, e)) continue;
    const auto i = static_cast<std::size_t>(e);
    const Eigen::Vector3d middle =
        0.5 * (fields.positions.row(blank.edges.nodes(e, 0)) + fields.positions.row(blank.edges.nodes(e, 1)));
    const double since_flat =
        std::log(length(blank.edges, e, fields.positions) / length(blank.edges, e, flat));
    const double when_cut = blank.strain_when_cut.empty() ? 0 : blank.strain_when_cut[i];
    strains.push_back({blank.edges.triangles(e, 0), since_flat - when_cut, middle, blank.edge_kind[i]});
  }
  return strains;
}

void note_strain_when_cut(mesh::TrimmedBlank& cut, const mesh::Blank& before, const mesh::Points& positions) {
  mesh::Blank& blank = cut.blank;
  blank.strain_when_cut.assign(blank.edge_kind.size(), 0);
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    const auto i = static_cast<std::size_t>(e);
    if (blank.edge_kind[i] != mesh::EdgeKind::trimmed) continue;
    const int parent = cut.edge_origin[i].edge;
    const bool was_cut = parent >= 0 && before.edges.is_boundary(parent);
    blank.strain_when_cut[i] =
        was_cut ? before.strain_when_cut[static_cast<std::size_t>(parent)]
                : std::log(length(blank.edges, e, positions) / length(blank.edges, e, blank.mesh.nodes));
  }
}

const std::optional<double>& EdgeLimits::of(mesh::EdgeKind kind) const {
  if (kind == mesh::EdgeKind::trimmed) return trimmed;
  return kind == mesh::EdgeKind::hole ? holes : outline;
}

double edge_share(const EdgeStrain& edge, const EdgeLimits& limits) {
  const auto& limit = limits.of(edge.kind);
  return limit ? std::max(edge.strain, 0.0) / *limit : std::numeric_limits<double>::quiet_NaN();
}

Eigen::VectorXd edge_shares(const std::vector<EdgeStrain>& edges, Eigen::Index n_triangles,
                            const EdgeLimits& limits) {
  Eigen::VectorXd shares = Eigen::VectorXd::Constant(n_triangles, std::numeric_limits<double>::quiet_NaN());
  for (const EdgeStrain& edge : edges) {
    const double share = edge_share(edge, limits);
    if (std::isnan(share)) continue;
    double& of_triangle = shares(edge.triangle);
    of_triangle = std::isnan(of_triangle) ? share : std::max(of_triangle, share);
  }
  return shares;
}

double edge_limit_strain(double stretch) {
  return std::log1p(stretch);
}

double bend_limit_strain(double radius_over_thickness) {
  return std::log1p(1 / (2 * radius_over_thickness + 1));
}

Eigen::MatrixX2d bent_faces(const SheetFields& fields) {
  constexpr double bent = 1.0 / 3;
  const Eigen::Index n = fields.strain_mid.rows();
  Eigen::MatrixX2d faces = Eigen::MatrixX2d::Constant(n, 2, std::numeric_limits<double>::quiet_NaN());
  if (n == 0) return faces;
  Eigen::MatrixX3d majors(n, 3);
  majors << fields.strain_outer.col(0), fields.strain_inner.col(0), fields.strain_mid.col(0);
  const Neighbourhood around(fields, fields.thickness.maxCoeff());
  for (Eigen::Index t = 0; t < n; ++t) {
    const Eigen::RowVector3d mean = around.mean(majors, t);
    for (int face = 0; face < 2; ++face)
      if (mean(face) > 0 && mean(face) - mean(2) >= bent * mean(face)) faces(t, face) = mean(face);
  }
  return faces;
}

BentFibre worst_bend(const SheetFields& fields) {
  const Eigen::MatrixX2d faces = bent_faces(fields);
  BentFibre worst;
  for (Eigen::Index t = 0; t < faces.rows(); ++t)
    for (int face = 0; face < 2; ++face)
      if (faces(t, face) > worst.strain) worst = {static_cast<int>(t), faces(t, face)};
  return worst;
}

}  // namespace halftool::solver
