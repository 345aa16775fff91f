#pragma once
#include <filesystem>
#include <vector>

#include "io/figures/frame.hpp"
#include "io/results/effect_table.hpp"

namespace halftool::io {

/// Draws the leading two results: a line a factor from the mean at its low end to that at its high end, and
/// the middle run as a ring. PNG or SVG by the extension. Needs no display.
/// @throws WriteError
void draw_effects(const std::filesystem::path& path, const Caption& caption,
                  const std::vector<ScatteredResult>& results);

}  // namespace halftool::io
