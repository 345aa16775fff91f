#pragma once
#include <filesystem>

#include "io/table/number_table.hpp"
#include "solver/material/tensile_curve.hpp"

namespace halftool::io {

/// Reads a tensile test from a table: one column of strain and one of stress, each named engineering or true,
/// with its unit in brackets (strain: %, mm/mm, in/in, m/m, -; stress: MPa, ksi, psi and the other units of
/// pressure).
/// @throws CaseError  what is wrong, with line and mend: units or kinds that are missing or mixed, strains
/// that
///         fall, numbers that no sheet gives, fewer than 8 rows
solver::TensileTest read_tensile_test(const std::filesystem::path& file);
solver::TensileTest tensile_test_in(const NumberTable& table);

}  // namespace halftool::io
