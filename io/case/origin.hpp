#pragma once
#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace halftool::io {

/// How far a constant of the sheet is to be trusted, best first. "user": given in the case itself, beside a
/// sheet of the stock.
const std::vector<std::string>& grades();

/// The worse of two grades; one that is not known counts as worst.
const std::string& worse_grade(const std::string& a, const std::string& b);

/// Where one constant of the sheet comes from.
struct ConstantOrigin {
  std::string key;    ///< below sheet.material: "swift.strength"
  std::string value;  ///< as written: "205 MPa"
  std::string grade;  ///< one of grades()
  std::string source;
  std::string note = {};  ///< how it was derived, or what stands against it; may be empty
};

/// Least bends that a sheet is known to bear, at 90 degrees and cold.
struct LeastBends {
  std::vector<std::array<double, 2>> ratios;  ///< [thickness [mm], inside radius over it], both rise
  std::string grade;                          ///< one of grades()
  std::string source;

  /// That of the next thickness listed, as thicker sheets bear less; nothing beyond the last.
  [[nodiscard]] std::optional<double> ratio_at(double thickness) const;
};

/// What a case takes from the stock of sheets.
struct StockUse {
  std::string name;             ///< of the sheet in the stock
  std::string caution;          ///< of the sheet; may be empty
  bool limit_estimate = false;  ///< the estimate of the forming limit was made for this kind of metal
  std::optional<LeastBends> least_bends;
  std::vector<ConstantOrigin> origins;  ///< of every constant, the case's own ones included
  std::set<std::string> filled;         ///< keys that the stock gave: "sheet.material.swift.strength"
};

/// "youngs_modulus = 69 GPa: handbook typical, SOURCE".
std::string print_origin(const ConstantOrigin& origin);

}  // namespace halftool::io
