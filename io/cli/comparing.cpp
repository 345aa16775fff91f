#include "io/cli/comparing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "io/cli/extremes.hpp"

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

void compare_bends(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                   const solver::SheetFields& fields) {
  const Eigen::MatrixX2d& faces = fields.bent_strain;
  std::vector<double> greatest(estimates.size(), 0);
  for (Eigen::Index t = 0; t < faces.rows(); ++t) {
    const double strain = faces.row(t).array().isNaN().select(0, faces.row(t)).maxCoeff();
    if (strain == 0) continue;
    const auto* flange = solver::nearest_flange(estimates, centre_of(fields, static_cast<int>(t)).head<2>());
    double& of_flange = greatest[static_cast<std::size_t>(flange - estimates.data())];
    of_flange = std::max(of_flange, strain);
  }
  for (std::size_t i = 0; i < estimates.size(); ++i)
    if (greatest[i] > 0)
      summary.comparisons.push_back(
          {"strain of the outer fibre at " + estimates[i].name, "", greatest[i], estimates[i].fibre_strain});
}

void compare_folding(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                     const solver::FoldTrace& trace, double reached) {
  for (std::size_t i = 0; i < estimates.size(); ++i) {
    const solver::Folding& folding = trace.foldings()[i];
    if (!folding.has_sheet) continue;
    Comparison line;
    line.what = estimates[i].name + " begins to fold at";
    line.unit = "MPa";
    line.not_reached = std::isnan(folding.pressure);
    line.computed = line.not_reached ? reached : folding.pressure;
    line.estimated = estimates[i].fold_pressure;
    summary.comparisons.push_back(line);
  }
}

void compare_filling(Summary& summary, const solver::FillTrace& trace, double reached) {
  constexpr std::size_t most_shown = 4;
  const auto& radii = trace.radii();
  for (std::size_t i = 0; i < std::min(most_shown, radii.size()); ++i) {
    const solver::Filling& filling = trace.fillings()[i];
    if (!std::isfinite(filling.stand_off)) continue;  // nothing was pressed on this tool half
    const mesh::ConcaveRadius& hollow = radii[i].hollow;
    Comparison line;
    line.what = fmt::format("inside radius of {:.3g} mm at ({:.0f}, {:.0f}, {:.0f}) fills at", hollow.radius,
                            hollow.at.x(), hollow.at.y(), hollow.at.z());
    line.unit = "MPa";
    line.not_reached = !filling.is_filled;
    line.computed = line.not_reached ? reached : filling.pressure;
    line.estimated = radii[i].needed;
    summary.comparisons.push_back(line);
  }
}

}  // namespace halftool::io
