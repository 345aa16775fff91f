#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/tool_set.hpp"

namespace halftool::io {

/// Doubts about the units of a tool half from STEP: a size that no tool half has, and one that is very unlike
/// the blank's. (Those from STL are told as the case is read, those from measures refused.)
std::vector<CaseWarning> size_doubts(const Case& job, const ToolSet& set);

}  // namespace halftool::io
