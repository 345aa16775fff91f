#pragma once
#include <cstdint>
#include <vector>

namespace halftool::io {

/// A picture of 8-bit red, green, blue, row by row from the top left.
struct Image {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> rgb;  ///< (height, width, 3)
};

}  // namespace halftool::io
