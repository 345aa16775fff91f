#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace halftool::io {

/// A group of a DXF file: a code and a value, each on a line of its own.
struct DxfPair {
  int code = 0;
  std::string_view value;  ///< without blanks around it
  int line = 0;            ///< of the value, from 1
};

/// The groups of a DXF file up to 0 EOF, which is the last.
/// @throws DrawingError  no DXF, binary form, a code that is no number, a file without its end
std::vector<DxfPair> dxf_pairs(std::string_view text);

/// A whole text as a number, whatever the locale; nothing if it is not finite or not a number.
std::optional<double> dxf_real(std::string_view value);
std::optional<int> dxf_integer(std::string_view value);

}  // namespace halftool::io
