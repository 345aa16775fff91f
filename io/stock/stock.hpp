#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "io/case/document.hpp"
#include "io/case/origin.hpp"

namespace halftool::io {

/// One constant of a sheet of the stock.
struct StockConstant {
  Node value;  ///< as it would stand in [sheet.material]
  ConstantOrigin origin;
};

/// A strength of the tensile test that a publication gives, held against the law.
struct PublishedStrength {
  double stress = 0;   ///< engineering [MPa]
  std::string source;  ///< in full
  std::string reason;  ///< why the law misses it by more than kStrengthMiss; else empty
};
inline constexpr double kStrengthMiss = 0.05;  ///< share of the published strength

/// A sheet of the stock (io/stock/sheets.toml, compiled in).
struct StockSheet {
  std::string key;              ///< by which a case asks for it: "AA6061-O"
  std::string name;             ///< "aluminium 6061-O, annealed"
  std::string valid_for;        ///< what was tested, or how little
  std::string reread;           ///< how the constants were held against their sources
  std::string caution;          ///< may be empty
  bool limit_estimate = false;  ///< the estimate of the forming limit was made for this kind of metal
  std::optional<LeastBends> least_bends;  ///< none where no table was found
  std::vector<StockConstant> constants;
  std::optional<PublishedStrength> offset_yield, tensile_strength;  ///< Rp0.2 and Rm

  /// The worst grade of its constants.
  [[nodiscard]] std::string worst_grade() const;
};

/// All sheets, in alphabetical order of their keys, capitals first.
const std::vector<StockSheet>& stock();

/// Null if there is none of that name.
const StockSheet* find_stock(std::string_view key);

/// Names of all sheets, in the same order.
std::vector<std::string> stock_names();

/// Reads a text of the form of sheets.toml.
/// @throws CaseError  text that is not TOML, a constant without grade or source
std::vector<StockSheet> parse_stock(std::string_view text, const std::string& file);

/// The text of io/stock/sheets.toml; made by the build.
std::string_view stock_text();

}  // namespace halftool::io
