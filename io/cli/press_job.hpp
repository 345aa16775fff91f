#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/press_journal.hpp"
#include "io/cli/tool_set.hpp"
#include "io/results/summary.hpp"
#include "mesh/blank.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// The tool half as it stands in each step, and the blank laid on the first.
struct Setup {
  std::shared_ptr<const ToolSet> tools;
  mesh::Blank blank;
  double seconds = 0;  ///< wall time that both took
};

/// @throws CaseError  tool halves that cannot be built or are not symmetric, a blank off the tool, trim lines
/// that cannot meet the formed part
/// @throws mesh::MeshError  a blank that cannot be meshed
Setup make_setup(const Case& job);
/// The same over tools that stand already.
Setup make_setup(const Case& job, std::shared_ptr<const ToolSet> tools);

/// What a job computed, whole or in part, and what there is to say about it.
struct PressResult {
  Summary summary;
  std::optional<solver::SheetFields> formed;    ///< end of the dwell, or the last state that was reached
  std::optional<solver::SheetFields> released;  ///< best-fitted to the formed part
  /// Where the part was trimmed after the last step: what is left of the formed part, on the mesh of the
  /// released one.
  std::optional<solver::SheetFields> formed_trimmed;
  bool line_not_cut =
      false;  ///< a trim after the last step: with another line the pressing can be gone on with
};

/// Whether a pressing can be taken up again after it was broken off.
struct Checkpointing {
  std::filesystem::path file = {};  ///< written now and then; empty: never
  bool go_on = false;               ///< from what stands in the file
};

/// The computation of a job: presses to full pressure, releases, takes the tool away, fits, assesses. What
/// breaks it off (no balance, a stop by the user) becomes the outcome of the summary.
/// @param journal  follows the pressing; its last state is kept when the job breaks off
/// @throws FolderError  there is nothing to go on from, or not for this job
PressResult press_job(const Case& job, const Setup& setup, PressJournal& journal,
                      const Checkpointing& checkpointing = {});

}  // namespace halftool::io
