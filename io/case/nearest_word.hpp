#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace halftool::io {

/// Edits (insert, delete, replace, swap of neighbours) that turn one word into the other; letter case counts
/// nothing. Optimal string alignment: Damerau (1964).
int edit_distance(std::string_view a, std::string_view b);

/// The candidate that the word was most likely meant to be; empty if none is near (more than a third of the
/// letters, or three, would have to change).
std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace halftool::io
