#pragma once
#include <string>

#include "solver/assessment/screen.hpp"

namespace halftool::io {

/// A text broken at blanks into lines of at most 100 columns: the first begins with `head`, the others with
/// as many blanks, all with the prefix.
std::string wrapped(const std::string& prefix, const std::string& head, const std::string& text);

/// "r = 6 mm", kept on one line by wrapped().
std::string print_figure(const solver::Figure& figure, const char* is);

}  // namespace halftool::io
