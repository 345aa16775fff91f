#pragma once
#include <vector>

#include "io/results/summary.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "solver/assessment/flange_estimate.hpp"
#include "solver/assessment/fold_trace.hpp"
#include "solver/springback/flange.hpp"

namespace halftool::io {

/// Adds the springback of a flange beside the estimate of the bend that runs nearest to it, if that turns by
/// about as much (within 30 degrees): else the flange was folded over something else.
/// @param angle  of the flange
void compare_springback(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                        const solver::Flange& flange, const FlangeAngle& angle);

/// Adds strain and thinning at the cut edge of each flange that is curved in plan, beside their estimates:
/// the most stretched edge that lies nearest to a stretch flange's bend, the most shrunk to a shrink
/// flange's.
void compare_edges(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                   const std::vector<solver::EdgeStrain>& edges, const Eigen::VectorXd& thinning);

/// Adds the greatest strain of a bent face (solver::bent_faces) nearest to each bend, beside the strain of
/// the outer fibre that its radius gives.
void compare_bends(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                   const solver::SheetFields& fields);

/// Adds the pressures at which flanges began to fold (FoldTrace), beside those that the formula gives.
/// @param reached  greatest pressure of the run [MPa]
void compare_folding(Summary& summary, const std::vector<solver::FlangeEstimate>& estimates,
                     const solver::FoldTrace& trace, double reached);

/// Adds the pressures at which the sheet filled the inside radii, the hardest first, beside those that the
/// formula asks for.
/// @param reached  greatest pressure of the run [MPa]
void compare_filling(Summary& summary, const solver::FillTrace& trace, double reached);

}  // namespace halftool::io
