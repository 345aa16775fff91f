#pragma once
#include <optional>

#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// The sheet with the exponent of its hardening multiplied by a factor and the flow stress at a strain of 0.1
/// kept, so that exponent and strength are told apart. Of a blend of Swift and Voce the Swift part; of Voce's
/// law and of a table, which have none, the exponent that the curve has at that strain, d ln stress/d ln
/// strain.
/// @return nothing for two surfaces, for an exponent that is not below 1 then, and where the first yield
/// would not be above 0
std::optional<SheetMaterial> with_exponent(SheetMaterial sheet, double factor);

}  // namespace halftool::solver
