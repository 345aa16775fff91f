#pragma once
#include <memory>
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/press_journal.hpp"
#include "io/results/summary.hpp"
#include "mesh/blank.hpp"
#include "solver/stepping/forming.hpp"

namespace halftool::io {

/// The sheet between two trims, with what presses it.
struct SheetStage {
  mesh::Blank blank;
  solver::SheetModel model;
  std::vector<solver::PressSpec> steps;  ///< (n_steps) of the job
  solver::IncrementSolver increments;

  SheetStage(const Case& job, mesh::Blank sheet, solver::RunRecord& record);
  SheetStage(const SheetStage&) = delete;
  SheetStage& operator=(const SheetStage&) = delete;
};

/// A stage and states of its sheet; all states are cut alike.
struct TrimmedStage {
  std::unique_ptr<SheetStage> stage;
  std::vector<solver::SheetState> states;
};

/// The trim lines of a step, in the order in which they are cut.
/// @param when  after the last step: those of this time; between steps there is but one time
std::vector<const TrimLine*> trims_after(const Case& job, std::size_t step, TrimTime when);

/// Cuts a sheet along a line and tells the summary and the journal.
/// @param laid    the sheet as the line is laid on it
/// @param states  of the sheet, carried over
/// @throws solver::SolveError  a line that cannot be cut
TrimmedStage trim(const Case& job, const TrimLine& line, const SheetStage& before, const mesh::Points& laid,
                  const std::vector<const solver::SheetState*>& states, Summary& summary,
                  PressJournal& journal);

}  // namespace halftool::io
