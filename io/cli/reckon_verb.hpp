#pragma once
#include <filesystem>

#include "io/case/case.hpp"

namespace halftool::io {

/// How `halftool reckon` was called.
struct ReckonOptions {
  std::filesystem::path json;  ///< file to write the estimates to as well; empty: none
};

/// Prints closed-form estimates of a case: the tool half is meshed and measured, nothing is solved, no blank
/// is meshed.
/// @return  exit code, see ExitCode
/// @throws mesh::MeshError, WriteError
int run_reckon(const Case& job, const ReckonOptions& options);

}  // namespace halftool::io
