#pragma once
#include <filesystem>

#include "io/case/case.hpp"

namespace halftool::io {

/// How `halftool sheets` was called.
struct SheetsOptions {
  std::filesystem::path case_file;
  std::filesystem::path folder;  ///< for the table and the runs; empty: the case's name with .halftool-sheets
  bool replace = false;
  bool quiet = false;
  int threads = -1;  ///< -1: as the case says
};

/// Presses a case with its own sheet and each of its [[sheet.other]] over one tool half.
/// @return exit code of them all, see worst_exit_code
/// @throws CaseError, FolderError, mesh::MeshError, WriteError
int run_sheets(const SheetsOptions& options);

}  // namespace halftool::io
