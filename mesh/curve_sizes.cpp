#include "mesh/curve_sizes.hpp"

#include <gmsh.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace halftool::mesh {
namespace {

constexpr int n_samples = 41;
constexpr double no_demand = 1e22;       // [mm]
constexpr double same_point = 1e-6;      // [mm]
constexpr double straight_from = 1e-12;  // curvature [1/mm]

}  // namespace

CurveSizes::CurveSizes(const GmshSession& session, const std::vector<int>& surfaces, double turn) {
  session.attempt("measuring curvature", [&] {
    std::map<int, std::vector<int>> faces_at;
    for (const int surface : surfaces) {
      std::string type;
      gmsh::model::getType(2, surface, type);
      gmsh::vectorpair boundary;
      gmsh::model::getBoundary({{2, surface}}, boundary, false, false, false);
      for (const auto& [dimension, curve] : boundary) {
        auto& faces = faces_at[curve];
        if (type != "Plane" && std::find(faces.begin(), faces.end(), surface) == faces.end())
          faces.push_back(surface);
      }
    }
    for (const auto& [curve, faces] : faces_at) {
      if (!faces.empty()) sample(curve, faces, turn);
    }
  });
}

void CurveSizes::sample(int curve, const std::vector<int>& surfaces, double turn) {
  std::vector<double> low, high, parameters, coordinates;
  gmsh::model::getParametrizationBounds(1, curve, low, high);
  for (int i = 0; i < n_samples; ++i)
    parameters.push_back(low.at(0) + (high.at(0) - low.at(0)) * i / (n_samples - 1));
  gmsh::model::getValue(1, curve, parameters, coordinates);
  Samples& samples = curves_[curve];
  samples.sizes.assign(n_samples, no_demand);
  for (std::size_t i = 0; i < n_samples; ++i) {
    samples.points.emplace_back(coordinates[3 * i], coordinates[3 * i + 1], coordinates[3 * i + 2]);
  }
  for (const int surface : surfaces) {
    std::vector<double> on_surface, largest, smallest, along_first, along_second;
    gmsh::model::reparametrizeOnSurface(1, curve, parameters, surface, on_surface);
    gmsh::model::getPrincipalCurvatures(surface, on_surface, largest, smallest, along_first, along_second);
    for (std::size_t i = 0; i < n_samples && i < std::min(largest.size(), smallest.size()); ++i) {
      const double curvature = std::max(std::abs(largest[i]), std::abs(smallest[i]));
      if (std::isfinite(curvature) && curvature > straight_from) {
        const double size = turn / curvature;
        samples.sizes[i] = std::min(samples.sizes[i], size);
        const auto [entry, is_new] = samples.smallest.try_emplace(surface, size);
        if (!is_new) entry->second = std::min(entry->second, size);
      }
    }
  }
}

double CurveSizes::nearest(const Samples& samples, const Eigen::Vector3d& x, double within) {
  double best = within * within;
  double size = no_demand;
  for (std::size_t i = 0; i < samples.points.size(); ++i) {
    const double distance = (samples.points[i] - x).squaredNorm();
    if (distance < best) {
      best = distance;
      size = samples.sizes[i];
    }
  }
  return size;
}

const std::map<int, double>& CurveSizes::demands_on(int curve) const {
  static const std::map<int, double> none;
  const auto found = curves_.find(curve);
  return found == curves_.end() ? none : found->second.smallest;
}

double CurveSizes::at(int dimension, int tag, const Eigen::Vector3d& x) const {
  if (dimension == 1) {
    const auto curve = curves_.find(tag);
    if (curve == curves_.end()) return no_demand;
    return nearest(curve->second, x, std::numeric_limits<double>::max());
  }
  double size = no_demand;
  if (dimension == 0) {
    for (const auto& [curve, samples] : curves_) size = std::min(size, nearest(samples, x, same_point));
  }
  return size;
}

}  // namespace halftool::mesh
