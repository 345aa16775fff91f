#pragma once
#include <filesystem>
#include <set>
#include <tuple>

#include "io/figures/image.hpp"

namespace halftool::io::test {

/// Reads a PNG back with another library than wrote it. An unreadable file gives a picture of no size.
Image read_png(const std::filesystem::path& path);

/// Red, green, blue of a pixel.
std::tuple<int, int, int> pixel(const Image& image, int x, int y);

std::set<std::tuple<int, int, int>> distinct_colours(const Image& image);

}  // namespace halftool::io::test
