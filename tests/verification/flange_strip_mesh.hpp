#pragma once
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "tests/verification/flange_strip.hpp"

namespace halftool::test {

inline constexpr double kFlangeBlock = 60;  // of the block, along the strip [mm]

/// The block that the strip is pressed over, wider than the strip.
mesh::ToolSurface flange_block(const FlangeStrip& setup);

/// The strip, flat on the block.
mesh::Blank flange_blank(const FlangeStrip& setup, const mesh::ToolSurface& block);

}  // namespace halftool::test
