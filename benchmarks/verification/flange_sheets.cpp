#include "benchmarks/verification/flange_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/case/case.hpp"

namespace halftool::verification {

std::vector<FlangeSheet> flange_sheets() {
  std::vector<FlangeSheet> sheets;
  for (const char* key : {"AA6061-O", "AA2024-O", "AA7075-O", "steel-N93"})
    sheets.push_back(
        {key, io::parse_sheet(fmt::format("[sheet.material]\nstock = \"{}\"\n", key), key).material});
  return sheets;
}

Row rising(const std::string& quantity, const std::string& mesh, double ratio) {
  Row row;
  row.quantity = quantity;
  row.mesh = mesh;
  row.value = ratio;
  row.reference = 1;
  row.error = std::min(0.0, ratio - 1);
  row.allowed = 0;
  return row;
}

}  // namespace halftool::verification
