#include "io/cli/comparing.hpp"

#include <cmath>
#include <numbers>

namespace halftool::io {
namespace {

constexpr double degree = std::numbers::pi / 180;

/// The edge that is strained most in the sense of the estimate; null if none lies nearest to its bend.
const solver::EdgeStrain* worst_edge_of(const solver::FlangeEstimate& flange,
                                        const std::vector<solver::FlangeEstimate>& estimates,
                                        const std::vector<solver::EdgeStrain>& edges) {
  const double sense = flange.edge_strain > 0 ? 1 : -1;
  const solver::EdgeStrain* worst = nullptr;
  for (const solver::EdgeStrain& edge : edges) {
    const bool worse = worst == nullptr || sense * edge.strain > sense * worst->strain;
    if (worse && solver::nearest_flange(estimates, edge.at.head<2>()) == &flange) worst = &edge;
  }
  return worst;
}

}  // namespace

void compare_springback(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                        const solver::Flange& flange, const FlangeAngle& angle) {
  constexpr double alike = 30 * degree;
  const solver::FlangeEstimate* estimate = solver::nearest_flange(estimates, flange.centre.head<2>());
  if (estimate == nullptr || !estimate->springback || std::abs(estimate->bend.turn - angle.formed) > alike)
    return;
  const double turn = estimate->bend.turn / degree;
  const solver::BendSpringback& springback = *estimate->springback;
  summary.comparisons.push_back({flange.name + " opens by", "deg", (angle.formed - angle.released) / degree,
                                 turn * springback.share, turn * springback.low, turn * springback.high});
}

void compare_edges(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                   const std::vector<solver::EdgeStrain>& edges, const Eigen::VectorXd& thinning) {
  for (const solver::FlangeEstimate& flange : estimates) {
    if (std::isnan(flange.edge_strain)) continue;
    const solver::EdgeStrain* worst = worst_edge_of(flange, estimates, edges);
    if (worst == nullptr) continue;
    summary.comparisons.push_back(
        {"strain of the cut edge beyond " + flange.name, "", worst->strain, flange.edge_strain});
    summary.comparisons.push_back({"thinning of the cut edge beyond " + flange.name, "",
                                   thinning(worst->triangle), flange.edge_thinning});
  }
}

}  // namespace halftool::io
