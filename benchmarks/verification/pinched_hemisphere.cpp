#include "tests/verification/pinched_hemisphere.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"

namespace halftool::verification {
namespace {

void add_rows(bool hole, Report& report) {
  add_refinement(
      {.quantity = hole ? "displacement under a force, hole of 18 degrees" : "displacement under a force, closed",
       .reference = hole ? test::kHoledHemisphere : test::kClosedHemisphere,
       .value = [hole](int divisions, unsigned seed) { return test::hemisphere_displacement(hole, divisions, seed); },
       .cells = [hole](int divisions) { return hole ? fmt::format("{0} x {0}", divisions) : fmt::format("{} on three sides", divisions); },
       .divisions = {8, 16, 32, 64},
       .judged = 32,
       .allowed = 0.01},
      report);
}

Report run() {
  Report report;
  add_rows(true, report);
  add_rows(false, report);
  return report;
}

}  // namespace

Problem pinched_hemisphere() {
  return {"pinched-hemisphere", "Pinched hemisphere", "Linear", "MacNeal and Harder 1985; 0.0940 from memory", Evidence::quoted, run};
}

}  // namespace halftool::verification
