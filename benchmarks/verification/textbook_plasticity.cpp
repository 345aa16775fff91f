#include "tests/verification/textbook_plasticity.hpp"

#include <cmath>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

Report run() {
  Report report;
  for (const test::Printed& row : test::textbook_exercises()) {
    report.rows.push_back(compare(row.exercise + ": " + row.quantity, "1 step", row.value, row.printed));
    report.rows.back().allowed = row.tolerance / std::abs(row.printed);
  }
  return report;
}

}  // namespace

Problem textbook_plasticity() {
  return {"textbook-plasticity",
          "Textbook exercises in the rigid-plastic limit",
          "Plasticity at a point",
          "Marciniak, Duncan and Hu 2002, exercises 2.1, 3.1, 3.3; Hosford and Caddell, Metal Forming, 3rd "
          "ed., 2.2",
          Evidence::quoted,
          run};
}

}  // namespace halftool::verification
