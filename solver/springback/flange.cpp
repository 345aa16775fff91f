#include "solver/springback/flange.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace halftool::solver {
namespace {

constexpr double kBendThicknesses = 12;
constexpr double kMostBesideAxis = 0.05;  // root mean square of the normals' parts along the axis of a wrap
constexpr double kLeastFold = 20 * std::numbers::pi / 180;
constexpr double kLeastShare = 0.01;      // of the part's area, to count as a region
constexpr double kMostUnevenness = 0.25;  // of a flange's fold angle: deviation over mean

Eigen::Vector3d area_vector(const mesh::SurfaceMesh& mesh, const mesh::Points& positions, int t) {
  const Eigen::Vector3d a = positions.row(mesh.triangles(t, 0));
  const Eigen::Vector3d b = positions.row(mesh.triangles(t, 1));
  const Eigen::Vector3d c = positions.row(mesh.triangles(t, 2));
  return 0.5 * (b - a).cross(c - a);
}

double angle_between(const Eigen::Vector3d& a, const Eigen::Vector3d& b) {
  return std::atan2(a.cross(b).norm(), a.dot(b));
}

int root(std::vector<int>& parent, int i) {
  while (parent[i] != i) i = parent[i] = parent[parent[i]];
  return i;
}

// Curvature across an edge: turn of the normal over the distance between the neighbours' centroids.
double edge_curvature(const mesh::Blank& blank, const mesh::Points& positions, int edge) {
  const int t0 = blank.edges.triangles(edge, 0);
  const int t1 = blank.edges.triangles(edge, 1);
  Eigen::RowVector3d apart = Eigen::RowVector3d::Zero();
  for (int i = 0; i < 3; ++i)
    apart += (positions.row(blank.mesh.triangles(t1, i)) - positions.row(blank.mesh.triangles(t0, i))) / 3;
  const double turn =
      angle_between(area_vector(blank.mesh, positions, t0), area_vector(blank.mesh, positions, t1));
  return turn / std::max(apart.norm(), 1e-12);
}

// Triangles beside a bent edge, and those that share a node with them: a triangle may lie in the bend by a
// part only.
std::vector<char> triangles_in_bends(const mesh::Blank& blank, const mesh::Points& positions) {
  std::vector<char> node_in_bend(blank.mesh.n_nodes(), 0);
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (blank.edges.is_boundary(e)) continue;
    if (edge_curvature(blank, positions, e) * kBendThicknesses * blank.thickness <= 1) continue;
    for (int side = 0; side < 2; ++side)
      for (int i = 0; i < 3; ++i) node_in_bend[blank.mesh.triangles(blank.edges.triangles(e, side), i)] = 1;
  }
  std::vector<char> bent(blank.mesh.n_triangles(), 0);
  for (int t = 0; t < blank.mesh.n_triangles(); ++t)
    for (int i = 0; i < 3; ++i) bent[t] = bent[t] || node_in_bend[blank.mesh.triangles(t, i)];
  return bent;
}

// What is not in a bend falls into connected regions.
std::vector<std::vector<int>> flat_regions(const mesh::Blank& blank, const mesh::Points& positions) {
  const int n = blank.mesh.n_triangles();
  const std::vector<char> bent = triangles_in_bends(blank, positions);
  std::vector<int> parent(n);
  for (int t = 0; t < n; ++t) parent[t] = t;
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (blank.edges.is_boundary(e)) continue;
    const int a = blank.edges.triangles(e, 0);
    const int b = blank.edges.triangles(e, 1);
    if (!bent[a] && !bent[b]) parent[root(parent, a)] = root(parent, b);
  }
  std::map<int, std::vector<int>> groups;
  for (int t = 0; t < n; ++t)
    if (!bent[t]) groups[root(parent, t)].push_back(t);
  std::vector<std::vector<int>> regions;
  regions.reserve(groups.size());
  for (auto& [key, group] : groups) regions.push_back(std::move(group));
  return regions;
}

Eigen::Vector3d total_area_vector(const mesh::Blank& blank, const mesh::Points& positions,
                                  const std::vector<int>& triangles) {
  Eigen::Vector3d total = Eigen::Vector3d::Zero();
  for (const int t : triangles) total += area_vector(blank.mesh, positions, t);
  return total;
}

// Area mean of the angle to a direction, and its standard deviation.
struct FoldStatistics {
  double mean = 0;
  double deviation = 0;
};

FoldStatistics fold_statistics(const mesh::Blank& blank, const mesh::Points& positions,
                               const std::vector<int>& web, const std::vector<int>& flange) {
  const Eigen::Vector3d up =
      web.empty() ? Eigen::Vector3d::UnitZ() : total_area_vector(blank, positions, web);
  double area = 0, sum = 0, square = 0;
  for (const int t : flange) {
    const Eigen::Vector3d vector = area_vector(blank.mesh, positions, t);
    const double angle = angle_between(up, vector);
    area += vector.norm();
    sum += vector.norm() * angle;
    square += vector.norm() * angle * angle;
  }
  if (!(area > 0)) return {};
  const double mean = sum / area;
  return {mean, std::sqrt(std::max(0.0, square / area - mean * mean))};
}

double total_area(const mesh::Blank& blank, const mesh::Points& positions,
                  const std::vector<int>& triangles) {
  double total = 0;
  for (const int t : triangles) total += area_vector(blank.mesh, positions, t).norm();
  return total;
}

Eigen::Vector3d centroid(const mesh::Blank& blank, const mesh::Points& positions,
                         const std::vector<int>& triangles) {
  Eigen::Vector3d sum = Eigen::Vector3d::Zero();
  for (const int t : triangles)
    for (int i = 0; i < 3; ++i) sum += positions.row(blank.mesh.triangles(t, i)).transpose();
  return sum / (3.0 * static_cast<double>(triangles.size()));
}

std::string side_name(const Eigen::Vector3d& from, const Eigen::Vector3d& to) {
  const Eigen::Vector3d d = to - from;
  if (std::abs(d.x()) >= std::abs(d.y())) return d.x() > 0 ? "flange at +x" : "flange at -x";
  return d.y() > 0 ? "flange at +y" : "flange at -y";
}

void number_repeated_names(std::vector<Flange>& flanges) {
  std::map<std::string, int> count;
  for (const Flange& flange : flanges) ++count[flange.name];
  std::map<std::string, int> next;
  for (Flange& flange : flanges)
    if (count[flange.name] > 1) flange.name += " (" + std::to_string(++next[flange.name]) + ")";
}

}  // namespace

Regions find_flanges(const mesh::Blank& blank, const mesh::Points& formed) {
  Regions result;
  std::vector<int> all(blank.mesh.n_triangles());
  for (int t = 0; t < blank.mesh.n_triangles(); ++t) all[t] = t;
  const double whole = total_area(blank, formed, all);
  std::vector<std::vector<int>> regions = flat_regions(blank, formed);
  std::erase_if(regions, [&](const auto& r) { return total_area(blank, formed, r) < kLeastShare * whole; });

  double best = 0;
  for (const auto& region : regions) {
    const double along_axis = total_area_vector(blank, formed, region).z();
    if (along_axis > best && along_axis > 0.9 * total_area(blank, formed, region)) {
      best = along_axis;
      result.web = region;
    }
  }
  const Eigen::Vector3d web_centre = centroid(blank, formed, result.web.empty() ? all : result.web);
  for (const auto& region : regions) {
    if (region == result.web) continue;
    const FoldStatistics fold = fold_statistics(blank, formed, result.web, region);
    if (fold.mean < kLeastFold || fold.deviation > kMostUnevenness * fold.mean) continue;
    const Eigen::Vector3d centre = centroid(blank, formed, region);
    result.flanges.push_back({side_name(web_centre, centre), region, centre});
  }
  number_repeated_names(result.flanges);
  return result;
}

double fold_angle(const mesh::Blank& blank, const mesh::Points& positions, const std::vector<int>& web,
                  const std::vector<int>& flange) {
  return fold_statistics(blank, positions, web, flange).mean;
}

std::optional<double> wrapped_turn(const SheetState& state) {
  if (state.frames.empty()) return std::nullopt;
  std::vector<Eigen::Vector3d> normals;
  Eigen::Matrix3d spread = Eigen::Matrix3d::Zero();
  for (std::size_t e = 0; e < state.frames.size(); ++e) {
    normals.push_back(
        mid_side_normal(state.frames[e], state.place.turn(static_cast<Eigen::Index>(e))).normalized());
    spread += normals.back() * normals.back().transpose();
  }
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> principal(spread /
                                                                 static_cast<double>(normals.size()));
  if (principal.eigenvalues()(0) > kMostBesideAxis * kMostBesideAxis) return std::nullopt;
  const Eigen::Vector3d axis = principal.eigenvectors().col(0);
  const Eigen::Vector3d& first = normals.front();
  double low = 0;
  double high = 0;
  for (const Eigen::Vector3d& n : normals) {
    const double turn = std::atan2(axis.dot(first.cross(n)), first.dot(n));
    low = std::min(low, turn);
    high = std::max(high, turn);
  }
  return high - low;
}

}  // namespace halftool::solver
