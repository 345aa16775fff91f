#pragma once
#include <string>

namespace halftool::io {

/// Every key of the case file with kind, range, default and meaning, for a terminal.
std::string print_key_reference();

/// The same as Markdown tables, one a table of the case file.
std::string print_key_reference_markdown();

}  // namespace halftool::io
