#pragma once
#include <optional>
#include <set>
#include <string>

#include "io/case/document.hpp"
#include "io/case/origin.hpp"

namespace halftool::io {

/// What came of sheet.material.stock.
struct StockFilling {
  std::optional<StockUse> use;  ///< nothing: the case names no sheet of the stock, or one that is not there
  std::set<std::string> meant;  ///< keys that a sheet of a wrong name was to give: their lack is no news
};

/// Puts the constants of the sheet that sheet.material.stock names into the document, on its line, where the
/// case does not give them itself. Of the hardening laws and yield conditions of the case and the stock the
/// case's own stands. Name, source and grade follow: the worst grade of all constants.
StockFilling fill_from_stock(Node& root);

}  // namespace halftool::io
