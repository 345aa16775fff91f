#pragma once
#include <optional>
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/press_journal.hpp"
#include "io/results/summary.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// The tool half and the blank laid on it.
struct Setup {
  mesh::ToolSurface tool;
  mesh::Blank blank;
  double seconds = 0;  ///< wall time that it took
};

/// @throws mesh::MeshError
Setup make_setup(const Case& job);

/// What a job computed, whole or in part, and what there is to say about it.
struct PressResult {
  Summary summary;
  std::optional<solver::SheetFields> formed;    ///< end of the dwell, or the last state that was reached
  std::optional<solver::SheetFields> released;  ///< best-fitted to the formed part
};

/// The computation of a job: presses to full pressure, releases, takes the tool away, fits, assesses. What
/// breaks it off (no balance, a stop by the user) becomes the outcome of the summary.
/// @param journal  follows the pressing; its last state is kept when the job breaks off
PressResult press_job(const Case& job, const Setup& setup, PressJournal& journal);

}  // namespace halftool::io
