#pragma once
#include <filesystem>
#include <memory>

#include "io/case/case.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/tool_set.hpp"
#include "io/results/summary.hpp"

namespace halftool::io {

/// How `halftool press` was called.
struct PressOptions {
  std::filesystem::path folder;  ///< result folder
  bool replace = false;          ///< an existing result folder may be replaced
  bool go_on = false;            ///< with the run that was broken off
  bool quiet = false;            ///< print errors and warnings only
};

/// Presses a case into its result folder: builds, presses, releases, assesses and writes.
/// @param tools  that one of several runs is pressed over, which are not gone on with; null: they are made
/// @throws mesh::MeshError, FolderError, WriteError
Summary press_case(Case job, std::shared_ptr<const ToolSet> tools, const PressOptions& options);

/// What the program ends with.
ExitCode exit_code(Outcome outcome);

/// The same with warnings before it and the summary after it on the console.
/// @return  exit code, see ExitCode
int run_press(const Case& job, const PressOptions& options);

}  // namespace halftool::io
