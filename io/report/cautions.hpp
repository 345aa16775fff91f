#pragma once
#include <string>
#include <vector>

namespace halftool::io {

/// The cautions that every result carries. They cannot be switched off.
std::vector<std::string> cautions();

}  // namespace halftool::io
