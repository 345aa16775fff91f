#pragma once
#include "io/cli/sheets_verb.hpp"

namespace halftool::io {

/// Presses a case in the middle and at the ends of its stated scatter over one tool half, and tells the bands
/// of the results and what drives them.
/// @return exit code of all runs, see worst_exit_code
/// @throws CaseError, FolderError, mesh::MeshError, WriteError
int run_scatter(Case job, const SheetsOptions& options);

}  // namespace halftool::io
