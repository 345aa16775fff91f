#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "io/case/case.hpp"

namespace halftool::io {

/// A case with something changed, over the same tool half.
struct CaseVariant {
  std::string label;  ///< "own sheet", "DP600, 1 mm"
  Case job;
};

/// The case itself ("own sheet"), then one for each [[sheet.other]]: read, completed and checked as if the
/// thickness or the stock stood in [sheet]. What the case says of its own sheet alone (measured forming
/// limit, edge and bend limits) is left out with another stock.
/// @throws CaseError  everything that is wrong in the file; what is wrong with one of the others names it
std::vector<CaseVariant> sheet_variants(const std::filesystem::path& file);
/// The same from a text.
std::vector<CaseVariant> sheet_variants(std::string_view text, const std::filesystem::path& file);

/// The doubts about all variants, each told once with the labels of those that it is of, then what the stock
/// says against its sheets, once each.
std::string print_warnings(const std::vector<CaseVariant>& variants);

}  // namespace halftool::io
