#include "benchmarks/verification/refinement.hpp"

#include <fmt/format.h>

namespace halftool::verification {

std::string square_cells(int divisions) {
  return fmt::format("{0} x {0}", divisions);
}

std::string mesh_words(const std::string& cells, unsigned seed) {
  return fmt::format("{}, {}", cells, seed ? fmt::format("irregular, seed {}", seed) : "structured");
}

void add_refinement(const Refinement& refinement, Report& report) {
  for (const unsigned seed : refinement.seeds) {
    double coarser = 0;
    for (const int divisions : refinement.divisions) {
      Row row = compare(refinement.quantity, mesh_words(refinement.cells(divisions), seed),
                        refinement.value(divisions, seed), refinement.reference);
      row.rate = observed_rate(coarser, row.error);
      if (divisions == refinement.judged) row.allowed = refinement.allowed;
      if (!row.holds()) row.remark = refinement.if_missed;
      coarser = row.error;
      report.rows.push_back(row);
    }
  }
}

}  // namespace halftool::verification
