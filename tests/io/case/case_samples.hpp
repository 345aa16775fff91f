#pragma once
#include <string>
#include <vector>

#include "io/case/case.hpp"

namespace halftool::io::samples {

/// A bracket: block, rectangle with a hole, Swift hardening. Invented constants.
extern const char* const bracket;

/// Texts of cases that together give every key of the vocabulary, in metric and inch units.
/// Some name a STEP file or a drawing that parse() puts there.
std::vector<std::string> all();

/// Reads a text as if it lay in a folder of its own that holds these files.
Case parse(const std::string& text);

/// The text with the value of one key replaced. `key` is a path of the schema; the text is a printed case.
/// Empty if the key does not stand in the text.
std::string with_value(const std::string& printed, const std::string& key, const std::string& value);

}  // namespace halftool::io::samples
