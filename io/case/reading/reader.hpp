#pragma once
#include <filesystem>

#include "io/case/case.hpp"
#include "io/case/document.hpp"

namespace halftool::io {

/// Reads one document into a case, completes and checks it.
/// @param file  name for messages; paths are relative to its folder
/// @throws CaseError  everything that is wrong in it
Case read_document(Node root, const std::filesystem::path& file);

/// The text of a case file.
/// @throws CaseError  a file that cannot be read
std::string case_text(const std::filesystem::path& file);

}  // namespace halftool::io
