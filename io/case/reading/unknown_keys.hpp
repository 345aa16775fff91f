#pragma once
#include <set>
#include <string>

#include "io/case/document.hpp"
#include "io/case/findings.hpp"

namespace halftool::io {

/// Reports every key of the document that the schema does not know, with the nearest one that it knows, and
/// every table that is not written as one.
/// @return  the keys, numbered, that were probably meant: they need not be reported as missing too
std::set<std::string> report_unknown_keys(const Node& root, Findings& findings);

}  // namespace halftool::io
