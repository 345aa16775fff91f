#include "mesh/noisy_flats.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <sstream>

#include "mesh/facet_corners.hpp"
#include "mesh/facet_net.hpp"
#include "mesh/facet_regions.hpp"
#include "mesh/facet_repair.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
constexpr double tolerances[] = {0.25, 0.5, 1, 2, 4, 8};  // of a growing flat, in gap_share of the extent
constexpr double most_turn = 0.05;                        // of a facet against the first of its flat [rad]
constexpr double much_smaller = 0.1;                      // in area
constexpr double least_ratio = 2;                         // of the bulge to what the corners are out of plane
constexpr double safe_ratio = 5;                          // the same where they are out by more than noise
constexpr double least_bulge = 10;                        // weld tolerances: less is not looked at

/// Facets that lie nearly in one plane.
struct Cluster {
  std::vector<int> facets;
  double area = 0;
  Vector3d normal = Vector3d::Zero();
  double off = 0;    ///< largest distance of a corner from the mean plane [mm]
  double bulge = 0;  ///< largest of the estimate over its facets [mm]
};

class FlatSearch {
 public:
  FlatSearch(const SurfaceMesh& mesh, const EdgeTable& edges)
      : mesh_(mesh),
        edges_(edges),
        regions_(find_regions(mesh, edges)),
        flat_(facet_normals(mesh)),
        extent_(extent_of(mesh)),
        order_(static_cast<std::size_t>(mesh.n_triangles())) {
    std::iota(order_.begin(), order_.end(), 0);
    std::stable_sort(order_.begin(), order_.end(), [&](int a, int b) { return area_of(a) > area_of(b); });
  }

  Points find() {
    look();
    if (noise_ > 0) {  // what the flats show of it serves for the rest
      regions_ = find_regions(mesh_, edges_, noise_);
      look();
    }
    find_doubts();
    return normals_;
  }

  void write(std::vector<std::string>& notes) const {
    std::ostringstream text;
    text.precision(4);
    if (n_flats_ > 0) {
      text << "repaired: flats with corners up to " << largest_off_
           << " mm out of their plane taken as flat, the first at " << place(first_flat_);
      notes.push_back(text.str());
    }
    if (n_doubtful_ == 0) return;
    text.str("");
    text << n_doubtful_ << (n_doubtful_ == 1 ? " facet was" : " facets were") << " rounded by up to "
         << largest_bulge_ << " mm beside much smaller ones alone, the most at " << place(at_largest_)
         << ": the tool may be flat there; export it finer, or as STEP";
    notes.push_back(text.str());
  }

 private:
  void estimate() {
    normals_ = estimate_corner_normals(mesh_, edges_, regions_, noise_);
    curved_ = build_facet_net(mesh_, normals_).facets;
  }

  void look() {
    estimate();
    for (const double tolerance : tolerances) {
      if (enter(tolerance * gap_share * extent_) > 0) estimate();
    }
  }

  /// Enters the flats that show at a tolerance [mm].
  /// @return how many
  int enter(double tolerance) {
    grow_clusters(tolerance);
    const double rounding = 3 * weld_share * extent_;  // planes known to that are judged by find_regions
    int entered = 0;
    for (std::size_t k = 0; k < clusters_.size(); ++k) {
      const Cluster& cluster = clusters_[k];
      if (cluster.facets.size() < 2 || cluster.off <= rounding || !stands_alone(k)) continue;
      const double ratio = cluster.off <= gap_share * extent_ ? least_ratio : safe_ratio;
      if (cluster.bulge <= std::max(least_bulge * weld_share * extent_, ratio * cluster.off)) continue;
      add_flat(cluster);
      ++entered;
    }
    return entered;
  }

  [[nodiscard]] Vector3d corner(int t, int i) const { return mesh_.nodes.row(mesh_.triangles(t, i)); }
  [[nodiscard]] Vector3d middle(int t) const { return (corner(t, 0) + corner(t, 1) + corner(t, 2)) / 3; }
  [[nodiscard]] double area_of(int t) const {
    return 0.5 * (corner(t, 1) - corner(t, 0)).cross(corner(t, 2) - corner(t, 0)).norm();
  }
  /// The facet across the side facing corner i; -1 at a crease.
  [[nodiscard]] int across(int t, int i) const {
    const int e = edges_.of_triangle(t, i);
    if (regions_.crease[static_cast<std::size_t>(e)]) return -1;
    return edges_.triangles(e, 0) == t ? edges_.triangles(e, 1) : edges_.triangles(e, 0);
  }
  static std::string place(const Vector3d& x) {
    std::ostringstream text;
    text.precision(4);
    text << '(' << x.x() << ", " << x.y() << ", " << x.z() << ") mm";
    return text.str();
  }

  [[nodiscard]] bool near_plane(int seed, int t, double tolerance) const {
    if ((flat_.row(seed) - flat_.row(t)).norm() > most_turn) return false;
    double off = 0;
    for (int i = 0; i < 3; ++i)
      off = std::max(off, std::abs(flat_.row(seed).dot(corner(t, i) - corner(seed, 0))));
    return off <= tolerance;
  }

  /// From the largest facets to the smallest, whose planes are the least certain.
  void grow_clusters(double tolerance) {
    clusters_.clear();
    cluster_of_.assign(order_.size(), -1);
    for (const int seed : order_) {
      if (cluster_of_[static_cast<std::size_t>(seed)] >= 0) continue;
      const auto number = static_cast<int>(clusters_.size());
      clusters_.emplace_back();
      grow(clusters_.back(), number, seed, tolerance);
      measure(clusters_.back());
    }
  }

  void grow(Cluster& cluster, int number, int seed, double tolerance) {
    cluster.facets.push_back(seed);
    cluster_of_[static_cast<std::size_t>(seed)] = number;
    for (std::size_t k = 0; k < cluster.facets.size(); ++k) {
      const int t = cluster.facets[k];
      for (int i = 0; i < 3; ++i) {
        const int other = across(t, i);
        if (other < 0 || cluster_of_[static_cast<std::size_t>(other)] >= 0) continue;
        if (!near_plane(seed, other, tolerance)) continue;
        cluster_of_[static_cast<std::size_t>(other)] = number;
        cluster.facets.push_back(other);
      }
    }
  }

  void measure(Cluster& cluster) const {
    Vector3d centre = Vector3d::Zero();
    for (const int t : cluster.facets) {
      cluster.area += area_of(t);
      cluster.normal += area_of(t) * flat_.row(t).transpose();
      centre += area_of(t) * middle(t);
      cluster.bulge = std::max(cluster.bulge, bulge_of(curved_[static_cast<std::size_t>(t)]));
    }
    cluster.normal.normalize();
    centre /= cluster.area;
    for (const int t : cluster.facets)
      for (int i = 0; i < 3; ++i)
        cluster.off = std::max(cluster.off, std::abs(cluster.normal.dot(corner(t, i) - centre)));
  }

  /// Whether all that a cluster goes over to smoothly is much smaller.
  [[nodiscard]] bool stands_alone(std::size_t number) const {
    for (const int t : clusters_[number].facets) {
      for (int i = 0; i < 3; ++i) {
        const int other = across(t, i);
        if (other < 0) continue;
        const auto beside = static_cast<std::size_t>(cluster_of_[static_cast<std::size_t>(other)]);
        if (beside != number && clusters_[beside].area > much_smaller * clusters_[number].area) return false;
      }
    }
    return true;
  }

  void add_flat(const Cluster& cluster) {
    if (n_flats_++ == 0) first_flat_ = middle(cluster.facets.front());
    largest_off_ = std::max(largest_off_, cluster.off);
    if (cluster.off <= gap_share * extent_) noise_ = std::max(noise_, cluster.off);
    const auto flat = static_cast<int>(regions_.flat_normal.size());
    for (const int t : cluster.facets) regions_.flat_of[static_cast<std::size_t>(t)] = flat;
    regions_.flat_normal.push_back(cluster.normal);
  }

  /// Rounded facets with smooth neighbours none of which is of their size.
  void find_doubts() {
    for (const int t : order_) {
      const double bulge = bulge_of(curved_[static_cast<std::size_t>(t)]);
      if (bulge <= gap_share * extent_) continue;
      int n_smooth = 0, n_alike = 0;
      for (int i = 0; i < 3; ++i) {
        const int other = across(t, i);
        if (other < 0) continue;
        ++n_smooth;
        if (area_of(other) > much_smaller * area_of(t)) ++n_alike;
      }
      if (n_smooth == 0 || n_alike > 0) continue;
      ++n_doubtful_;
      if (bulge <= largest_bulge_) continue;
      largest_bulge_ = bulge;
      at_largest_ = middle(t);
    }
  }

  const SurfaceMesh& mesh_;
  const EdgeTable& edges_;
  FacetRegions regions_;
  Points flat_;
  double extent_;
  Points normals_;                   ///< as estimated last
  std::vector<CurvedFacet> curved_;  ///< with them
  std::vector<int> order_;           ///< (n_triangles) by falling area
  std::vector<Cluster> clusters_;
  std::vector<int> cluster_of_;  ///< (n_triangles)
  int n_flats_ = 0, n_doubtful_ = 0;
  double largest_off_ = 0, noise_ = 0, largest_bulge_ = 0;
  Vector3d first_flat_ = Vector3d::Zero(), at_largest_ = Vector3d::Zero();
};

}  // namespace

double bulge_of(const CurvedFacet& facet) {
  const Vector3d normal =
      (facet.corner[1] - facet.corner[0]).cross(facet.corner[2] - facet.corner[0]).normalized();
  double largest = 0;
  const auto off = [&](const Vector3d& b) {
    largest = std::max(largest, std::abs(normal.dot(facet.point(b) - facet.corner[0])));
  };
  off(Vector3d::Constant(1.0 / 3));
  off({0, 0.5, 0.5});
  off({0.5, 0, 0.5});
  off({0.5, 0.5, 0});
  return largest;
}

Points estimate_beside_noisy_flats(const SurfaceMesh& mesh, const EdgeTable& edges,
                                   std::vector<std::string>& notes) {
  FlatSearch search(mesh, edges);
  Points normals = search.find();
  search.write(notes);
  return normals;
}

}  // namespace halftool::mesh
