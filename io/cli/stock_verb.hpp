#pragma once
#include <filesystem>
#include <string>

namespace halftool::io {

/// `halftool stock NAME`.
struct StockOptions {
  std::string name;
  std::filesystem::path picture;  ///< PNG or SVG; empty: none
  double thickness = 1;           ///< for which the forming limit is estimated [mm]
};

/// Lists the sheets of the stock.
/// @return  exit code
int run_stock_list();

/// Shows the constants of one sheet with grades and sources, what they say, and TOML to paste.
/// @return  exit code
/// @throws CaseError  there is no sheet of that name
/// @throws WriteError
int run_stock_show(const StockOptions& options);

}  // namespace halftool::io
