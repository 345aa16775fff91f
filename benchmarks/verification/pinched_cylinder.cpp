#include "tests/verification/pinched_cylinder.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"

namespace halftool::verification {
namespace {

std::string square(int divisions) {
  return fmt::format("{0} x {0}", divisions);
}

Report run() {
  Report report;
  add_refinement({.quantity = "deflection under the force",
                  .reference = test::kPinchedCylinderDeflection,
                  .value = test::pinched_cylinder_deflection,
                  .cells = square,
                  .divisions = {8, 16, 32, 64, 128},
                  .judged = 64,
                  .allowed = 0.05},
                 report);
  return report;
}

}  // namespace

Problem pinched_cylinder() {
  return {"pinched-cylinder", "Pinched cylinder with end diaphragms", "Linear", "Lindberg, Olson and Cowper 1969; Belytschko and others 1985", Evidence::quoted, run};
}

}  // namespace halftool::verification
