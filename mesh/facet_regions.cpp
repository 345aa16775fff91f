#include "mesh/facet_regions.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <utility>

#include "mesh/facet_repair.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
constexpr double degree = std::numbers::pi / 180;
constexpr double sharp_turn = 40 * degree;
constexpr double doubtful_turn = 15 * degree;
constexpr double crease_ratio = 2.5;
constexpr double flat_ratio = 0.75;
constexpr double larger_area = 2;
constexpr double much_larger_area = 10;
constexpr double least_border = 0.02;      // of a region's smooth border: shorter contacts say nothing
constexpr double same_plane = 2e-4;        // turn [rad] between facets of one plane
constexpr double noisy_same_plane = 0.05;  // the same where the corners are within rounding of the plane

double angle_between(const Vector3d& a, const Vector3d& b) {
  return 2 * std::asin(std::min(1.0, 0.5 * (a - b).norm()));
}

/// A border that two regions share.
struct Contact {
  double length = 0;
  double turn = 0;
  bool crease = false;
};
using Contacts = std::map<std::pair<int, int>, Contact>;

class RegionFinder {
 public:
  RegionFinder(const SurfaceMesh& mesh, const EdgeTable& edges, double corner_error)
      : mesh_(mesh),
        edges_(edges),
        normals_(facet_normals(mesh)),
        rounding_(std::max(3 * weld_share * extent_of(mesh), 2 * corner_error)) {}

  FacetRegions find() {
    grow_regions();
    measure_contacts();
    mark_creases();
    FacetRegions result;
    result.crease.resize(static_cast<std::size_t>(edges_.n_edges()));
    for (int e = 0; e < edges_.n_edges(); ++e) {
      const auto [p, q] = regions_at(e);
      result.crease[static_cast<std::size_t>(e)] = q < 0 || (p != q && contacts_.at({p, q}).crease);
    }
    std::vector<int> flat_number(area_.size(), -1);
    for (std::size_t r = 0; r < area_.size(); ++r) {
      if (!is_flat(static_cast<int>(r))) continue;
      flat_number[r] = static_cast<int>(result.flat_normal.size());
      result.flat_normal.push_back(normal_[r]);
    }
    for (const int r : region_of_) result.flat_of.push_back(flat_number[static_cast<std::size_t>(r)]);
    return result;
  }

 private:
  [[nodiscard]] Vector3d normal_of(int t) const { return normals_.row(t); }
  [[nodiscard]] double area_of(int t) const {
    const Vector3d a = mesh_.nodes.row(mesh_.triangles(t, 0));
    const Vector3d b = mesh_.nodes.row(mesh_.triangles(t, 1));
    const Vector3d c = mesh_.nodes.row(mesh_.triangles(t, 2));
    return 0.5 * (b - a).cross(c - a).norm();
  }

  /// Whether facet t lies in the plane of the facet `seed`.
  [[nodiscard]] bool in_plane(int seed, int t) const {
    const double turn = angle_between(normal_of(seed), normal_of(t));
    if (turn >= noisy_same_plane) return false;
    const Vector3d origin = mesh_.nodes.row(mesh_.triangles(seed, 0));
    double off = 0;
    for (int i = 0; i < 3; ++i) {
      const Vector3d x = mesh_.nodes.row(mesh_.triangles(t, i));
      off = std::max(off, std::abs(normal_of(seed).dot(x - origin)));
    }
    return turn < same_plane || off < rounding_;
  }

  /// From the largest facets to the smallest, whose normals are the least certain.
  void grow_regions() {
    const auto n = static_cast<std::size_t>(mesh_.n_triangles());
    std::vector<double> area(n);
    for (std::size_t t = 0; t < n; ++t) area[t] = area_of(static_cast<int>(t));
    std::vector<int> order(n);
    std::iota(order.begin(), order.end(), 0);
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      return area[static_cast<std::size_t>(a)] > area[static_cast<std::size_t>(b)];
    });
    region_of_.assign(n, -1);
    for (const int seed : order) {
      if (region_of_[static_cast<std::size_t>(seed)] >= 0) continue;
      const auto region = static_cast<int>(area_.size());
      std::vector<int> waiting{seed};
      region_of_[static_cast<std::size_t>(seed)] = region;
      double sum = 0;
      int count = 0;
      Vector3d normal = Vector3d::Zero();
      while (!waiting.empty()) {
        const int t = waiting.back();
        waiting.pop_back();
        sum += area[static_cast<std::size_t>(t)];
        ++count;
        normal += area[static_cast<std::size_t>(t)] * normal_of(t);
        for (int i = 0; i < 3; ++i) {
          const int e = edges_.of_triangle(t, i);
          const int other = edges_.triangles(e, 0) == t ? edges_.triangles(e, 1) : edges_.triangles(e, 0);
          if (other < 0 || region_of_[static_cast<std::size_t>(other)] >= 0 || !in_plane(seed, other))
            continue;
          region_of_[static_cast<std::size_t>(other)] = region;
          waiting.push_back(other);
        }
      }
      area_.push_back(sum);
      n_facets_.push_back(count);
      normal_.push_back(normal.normalized());
    }
  }

  /// The regions on both sides of an edge, the lower number first; the second is -1 at a border.
  [[nodiscard]] std::pair<int, int> regions_at(int e) const {
    const int p = region_of_[static_cast<std::size_t>(edges_.triangles(e, 0))];
    if (edges_.is_boundary(e)) return {p, -1};
    const int q = region_of_[static_cast<std::size_t>(edges_.triangles(e, 1))];
    return std::minmax(p, q);
  }

  void measure_contacts() {
    for (int e = 0; e < edges_.n_edges(); ++e) {
      const auto [p, q] = regions_at(e);
      if (q < 0 || p == q) continue;
      auto& contact = contacts_[{p, q}];
      contact.length += (mesh_.nodes.row(edges_.nodes(e, 0)) - mesh_.nodes.row(edges_.nodes(e, 1))).norm();
      contact.turn =
          angle_between(normal_[static_cast<std::size_t>(p)], normal_[static_cast<std::size_t>(q)]);
    }
    neighbours_.resize(area_.size());
    for (auto& [regions, contact] : contacts_) {
      neighbours_[static_cast<std::size_t>(regions.first)].emplace_back(regions.second, &contact);
      neighbours_[static_cast<std::size_t>(regions.second)].emplace_back(regions.first, &contact);
    }
  }

  /// Largest turn at a region's smooth borders, that with one neighbour left out; 0 if there are none.
  [[nodiscard]] double other_turn(int region, int left_out) const {
    double turn = 0;
    for (const auto& [other, contact] : neighbours_[static_cast<std::size_t>(region)]) {
      if (other != left_out && !contact->crease) turn = std::max(turn, contact->turn);
    }
    return turn;
  }

  void mark_creases() {
    for (auto& [regions, contact] : contacts_) contact.crease = contact.turn > sharp_turn;
    std::vector<Contact*> found;
    for (auto& [regions, contact] : contacts_) {
      if (contact.crease) continue;
      const double other =
          std::max(other_turn(regions.first, regions.second), other_turn(regions.second, regions.first));
      if (other == 0 || (contact.turn > doubtful_turn && contact.turn > crease_ratio * other))
        found.push_back(&contact);
    }
    for (Contact* contact : found) contact->crease = true;
  }

  /// Largest turn of a region to smooth neighbours of about its own size or smaller, one neighbour left out:
  /// across a round, not to a coarser part of the same face.
  [[nodiscard]] double far_turn(int region, int left_out) const {
    const double most = larger_area * area_[static_cast<std::size_t>(region)];
    double turn = 0;
    for (const auto& [other, contact] : neighbours_[static_cast<std::size_t>(region)]) {
      if (other != left_out && !contact->crease && area_[static_cast<std::size_t>(other)] <= most)
        turn = std::max(turn, contact->turn);
    }
    return turn;
  }

  [[nodiscard]] bool is_flat(int region) const {
    const bool single = n_facets_[static_cast<std::size_t>(region)] == 1;
    double border = 0;
    for (const auto& [other, contact] : neighbours_[static_cast<std::size_t>(region)]) {
      if (!contact->crease) border += contact->length;
    }
    const double area = area_[static_cast<std::size_t>(region)];
    for (const auto& [other, contact] : neighbours_[static_cast<std::size_t>(region)]) {
      if (contact->crease || contact->length < least_border * border) continue;
      const double ratio = area / area_[static_cast<std::size_t>(other)];
      const bool half_turn = contact->turn <= flat_ratio * far_turn(other, region);
      const bool much_larger = ratio >= much_larger_area;
      if (ratio < larger_area || !(single ? much_larger && half_turn : much_larger || half_turn))
        return false;
    }
    return true;
  }

  const SurfaceMesh& mesh_;
  const EdgeTable& edges_;
  Points normals_;
  double rounding_;
  std::vector<int> region_of_;
  std::vector<double> area_;
  std::vector<int> n_facets_;
  std::vector<Vector3d> normal_;
  Contacts contacts_;
  std::vector<std::vector<std::pair<int, Contact*>>> neighbours_;
};

}  // namespace

FacetRegions find_regions(const SurfaceMesh& mesh, const EdgeTable& edges, double corner_error) {
  return RegionFinder(mesh, edges, corner_error).find();
}

Points facet_normals(const SurfaceMesh& mesh) {
  Points normals(mesh.n_triangles(), 3);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Vector3d a = mesh.nodes.row(mesh.triangles(t, 0));
    const Vector3d b = mesh.nodes.row(mesh.triangles(t, 1));
    const Vector3d c = mesh.nodes.row(mesh.triangles(t, 2));
    normals.row(t) = (b - a).cross(c - a).normalized();
  }
  return normals;
}

}  // namespace halftool::mesh
