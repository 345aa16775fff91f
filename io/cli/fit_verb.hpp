#pragma once
#include <filesystem>
#include <optional>
#include <string>

namespace halftool::io {

/// `halftool stock fit TENSILE.csv`.
struct FitOptions {
  std::filesystem::path file;
  std::string name;               ///< of the sheet, for the printed case keys; empty: the file's
  std::optional<double> modulus;  ///< Young's modulus to be taken [MPa]; nothing: found in the test
  std::filesystem::path picture;  ///< PNG or SVG; empty: none
};

/// Reads a tensile test, fits the hardening laws and prints each with its errors, what it says beyond the
/// test, and TOML to paste. None is chosen.
/// @return  exit code
/// @throws CaseError  the table cannot be read, or says too little
/// @throws WriteError
int run_fit(const FitOptions& options);

}  // namespace halftool::io
