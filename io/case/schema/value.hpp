#pragma once
#include <optional>
#include <string>

#include "io/case/document.hpp"
#include "io/case/findings.hpp"
#include "io/case/schema/schema.hpp"

namespace halftool::io {

/// Turns what stands in the file into a value of the key: kind, unit, words and both ranges are checked.
/// @param key  full path with indices from 1, for messages
/// @return  nothing if there was an error; then `findings` holds at least one more
std::optional<Value> read_value(const Node& node, const KeySpec& spec, const std::string& key,
                                Findings& findings);

/// The value as TOML; reading it gives the value back.
std::string print_value(const Value& value, const KeySpec& spec);

/// What the key takes, in words: `a length, for example "1.6 mm"`.
std::string kind_text(const KeySpec& spec);

/// A range in the unit of the key: "0.1 mm to 12 mm", "above 0"; empty if there is no bound.
std::string range_text(const Range& range, const KeySpec& spec);

}  // namespace halftool::io
