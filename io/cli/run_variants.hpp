#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "io/case/variants.hpp"
#include "io/results/variant_table.hpp"

namespace halftool::io {

/// How several runs over one tool half are made and written.
struct VariantOptions {
  std::filesystem::path folder;  ///< holds the table and a folder for each run
  std::string table;             ///< name of the table's files
  bool replace = false;
  bool quiet = false;
};

/// Presses variants of a case one after another over one tool half, each into its own folder, and writes the
/// table after each. One that fails is a row of the table and does not stop the others; a stop by the user
/// does.
/// @return one row a run that was begun
/// @throws FolderError  before anything is run, if a folder is taken
/// @throws mesh::MeshError  of the tool half; WriteError
std::vector<VariantRow> run_variants(const std::vector<CaseVariant>& variants, const VariantOptions& options);

/// Exit code of them all: stopped; not completed, if one was not; a limit passed, if one passed one; done.
int worst_exit_code(const std::vector<VariantRow>& rows);

}  // namespace halftool::io
