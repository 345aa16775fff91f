#include "solver/assessment/edge_limit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

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

}  // namespace

std::vector<EdgeStrain> edge_strains(const mesh::Blank& blank, const SheetFields& fields) {
  const mesh::Points flat = fields.positions - fields.displacement;
  std::vector<EdgeStrain> strains;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (!is_judged(blank, e)) continue;
    const auto i = static_cast<std::size_t>(e);
    const std::array<Eigen::Vector3d, 2> ends = {fields.positions.row(blank.edges.nodes(e, 0)),
                                                 fields.positions.row(blank.edges.nodes(e, 1))};
    const double since_flat =
        std::log(length(blank.edges, e, fields.positions) / length(blank.edges, e, flat));
    const double when_cut = blank.strain_when_cut.empty() ? 0 : blank.strain_when_cut[i];
    strains.push_back({blank.edges.triangles(e, 0), since_flat - when_cut, 0.5 * (ends[0] + ends[1]),
                       blank.edge_kind[i], ends});
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

}  // namespace halftool::solver
