#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "benchmarks/verification/problem.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::verification {

/// A sheet of the stock by its key.
struct FlangeSheet {
  std::string key;
  solver::SheetMaterial material;
};

/// Three annealed aluminium alloys and a mild steel, constants as io/stock has them. The first is the one
/// that thickness and radius are varied with.
std::vector<FlangeSheet> flange_sheets();

/// Row of a ratio that a trend asks to be above one; it misses where it is not.
Row rising(const std::string& quantity, const std::string& mesh, double ratio);

}  // namespace halftool::verification
