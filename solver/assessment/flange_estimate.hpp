#pragma once
#include <optional>
#include <vector>

#include "mesh/screens/tool_bends.hpp"
#include "solver/assessment/bend_springback.hpp"
#include "solver/assessment/estimate.hpp"
#include "solver/assessment/hand_formulas.hpp"

namespace halftool::solver {

/// A bend of the tool with what hand formulas say of the flange over it. What does not exist is not a number.
struct FlangeEstimate {
  mesh::ToolBend bend;
  std::string name;                          ///< "bend at +x", numbered if there are several
  double axis_curvature = 0;                 ///< of the bend in plan, see fold_pressure [1/mm]
  double leg = 0;                            ///< straight part beyond the bend [mm]
  double fold_pressure = 0;                  ///< [MPa]
  std::optional<BendSpringback> springback;  ///< shares of the turn
  double fibre_strain = 0;                   ///< true, outer face of the bend
  double edge_strain = 0;                    ///< true, along the cut edge; not a number on straight flanges
  double axis_radius = 0;                    ///< of a curved bend in plan [mm]
  EdgeRadii edge_radii;                      ///< of the longest part of a curved flange
  double edge_thinning = 0;                  ///< there, (t0 - t)/t0; below zero it thickens
  double waving_strain = 0;                  ///< of a shrink flange
};

/// One for each bend, in their order. Bends of one radius share a springback.
/// @param scatter  of the strength, either way
std::vector<FlangeEstimate> estimate_flanges(const std::vector<mesh::ToolBend>& bends, const ScreenLoad& load,
                                             double scatter = usual_strength_scatter);

/// The flange whose bend runs nearest to a place in plan; null without flanges.
const FlangeEstimate* nearest_flange(const std::vector<FlangeEstimate>& flanges, const Eigen::Vector2d& plan);

/// What may limit a flange, as the case states it.
struct FlangeLimits {
  std::optional<double> edge_strain;  ///< true, along a cut edge
  std::optional<double> bend_strain;  ///< true, of the outer fibre of a bend
};

/// Estimates for a person: fold, springback, fibre and edge of each flange.
EstimateGroup flange_lines(const std::vector<FlangeEstimate>& flanges, const ScreenLoad& load,
                           const FlangeLimits& limits, double scatter = usual_strength_scatter);
/// Of the sheet as a whole: the length that friction locks, the least radius.
EstimateGroup sheet_lines(const ScreenLoad& load, double friction, const FlangeLimits& limits);

}  // namespace halftool::solver
