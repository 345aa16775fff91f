#pragma once
#include <filesystem>
#include <vector>

#include "io/figures/frame.hpp"
#include "io/results/variant_table.hpp"

namespace halftool::io {

/// Draws what several runs over one tool half came to, side by side: springback of the flange that moves
/// most, the larger share of the forming limit, thinning and strain of bends, as bars with their values,
/// grouped by sheet. The same sheet with isotropic and with kinematic hardening stands in one group, told
/// apart by shade and hatch. Each sheet carries its thickness, the worst grade of its constants and the kind
/// of its forming limit. 1600 px wide, as high as the sheets need. PNG or SVG by the extension. Needs no
/// display.
/// @throws WriteError
void draw_variants(const std::filesystem::path& path, const Caption& caption,
                   const std::vector<VariantRow>& rows);

}  // namespace halftool::io
