#include "tests/verification/scordelis_lo.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"

namespace halftool::verification {
namespace {

Report run() {
  Report report;
  add_refinement({.quantity = "deflection of the free edge's middle",
                  .reference = test::kRoofDeflection,
                  .value = test::roof_deflection,
                  .cells = square_cells,
                  .divisions = {8, 16, 32, 64},
                  .judged = 32,
                  .allowed = 0.01},
                 report);
  report.discussion = fmt::format(
      "One linear step. MacNeal and Harder give {}, with transverse shear; a shell without it tends to {}.",
      test::kRoofDeflectionWithShear, test::kRoofDeflection);
  return report;
}

}  // namespace

Problem scordelis_lo() {
  return {"scordelis-lo",   "Cylindrical roof under its own weight",
          "Linear",         "Scordelis and Lo 1964; MacNeal and Harder 1985; Belytschko and others 1985",
          Evidence::quoted, run};
}

}  // namespace halftool::verification
