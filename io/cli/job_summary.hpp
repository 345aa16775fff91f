#pragma once
#include "io/case/case.hpp"
#include "io/cli/job_limit.hpp"
#include "io/cli/tool_set.hpp"
#include "io/results/summary.hpp"
#include "mesh/blank.hpp"
#include "solver/result.hpp"
#include "solver/springback/alignment.hpp"
#include "solver/state.hpp"

namespace halftool::io {

/// One line: where the numbers behind a result come from.
std::string credential(const Case& job);

/// What is known before anything is solved: case, material, meshes, screens and doubts of the tool half of
/// each step, estimates over that of the last, cautions.
Summary start_summary(const Case& job, const mesh::Blank& blank, const ToolSet& set);

/// Adds the worst places of a state and judges the limits of the case.
void add_state(Summary& summary, const Case& job, const solver::SheetFields& fields);

/// Adds how far the cut edges of the formed part are stretched and its bends are bent, judges them where the
/// case limits them, and gives the fields their share of the edge limit.
void add_edges_and_bends(Summary& summary, const Case& job, const mesh::Blank& blank,
                         solver::SheetFields& fields);

/// Adds where the tool stands in the sheet between the places at which contact is computed.
void add_tool_in_sheet(Summary& summary, const mesh::ToolSurface& tool, const solver::SheetFields& fields);

/// Adds where the formed sheet passes through itself.
void add_folds(Summary& summary, const Case& job, const solver::SheetFields& fields);

/// Adds the angles of the flanges, formed and released, beside their estimates, and how the released part
/// fits the formed one. With no flange the whole turn of the sheet stands in for it (a wrapped strip);
/// what bends about two axes, or has its rim held, has none.
void add_springback(Summary& summary, const mesh::Blank& blank, const solver::SheetState& formed,
                    const solver::SheetState& released, const solver::Fit& fit);

/// Adds a warning for each sign that the computation is not to be trusted: balance open by more than 0.1 %,
/// penetration above 0.5 % of the thickness, more than 2 % of the work done by regularisation,
/// metal strained beyond its measured flow curve, or on paths beside the points of the forming limit.
void add_doubts(Summary& summary, const solver::SheetMaterial& material);

/// Largest resident memory of this process so far [MB].
double peak_memory_mb();

}  // namespace halftool::io
