#pragma once
#include <string>
#include <string_view>

#include "io/case/document.hpp"

namespace halftool::io {

/// "blank.hole[].at" with index 1 becomes "blank.hole[2].at": people count from 1.
std::string numbered(const std::string& path, int index);

/// The part before the last point; empty for a key at the top.
std::string parent_of(const std::string& path);

/// The part after the last point.
std::string leaf_of(const std::string& path);

/// The value under a numbered path, or null. Paths through something that is no table lead nowhere.
const Node* node_at(const Node& root, std::string_view numbered_path);

/// Whether `path` is `ancestor` or lies below it: "tool.block.width" below "tool.block" and "tool", not
/// "too".
bool is_within(std::string_view path, std::string_view ancestor);

}  // namespace halftool::io
