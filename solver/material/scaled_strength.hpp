#pragma once
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// The sheet with its flow stress multiplied by a factor, backstress and surfaces included.
SheetMaterial with_strength(SheetMaterial sheet, double factor);

}  // namespace halftool::solver
