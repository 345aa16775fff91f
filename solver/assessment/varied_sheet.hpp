#pragma once
#include <optional>

#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// The sheet with the exponent of its hardening multiplied by a factor and the flow stress at a strain of 0.1
/// kept, so that exponent and strength are told apart. Of a blend of Swift and Voce the Swift part.
/// @return nothing for a law without an exponent (Voce, two surfaces, a table), or one that is not below 1
/// then
std::optional<SheetMaterial> with_exponent(SheetMaterial sheet, double factor);

}  // namespace halftool::solver
