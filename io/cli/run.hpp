#pragma once
#include <filesystem>

#include "io/case/case.hpp"

namespace halftool::io {

/// How `halftool press` was called.
struct PressOptions {
  std::filesystem::path folder;  ///< result folder
  bool replace = false;          ///< an existing result folder may be replaced
  bool quiet = false;            ///< print errors and warnings only
};

/// The whole job: builds, presses, releases, assesses and writes.
/// @return  exit code, see ExitCode
int run_press(const Case& job, const PressOptions& options);

}  // namespace halftool::io
