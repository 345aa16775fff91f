#include "tests/verification/curved_beam.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"

namespace halftool::verification {
namespace {

void add_rows(test::RingForce force, const std::string& quantity, Report& report) {
  add_refinement({.quantity = quantity,
                  .reference = test::curved_beam_reference(force),
                  .value = [force](int divisions,
                                   unsigned seed) { return test::curved_beam_displacement(force, divisions, seed); },
                  .cells = [](int divisions) { return fmt::format("{} x {}", divisions, divisions / 8); },
                  .divisions = {8, 16, 32, 64},
                  .judged = 32,
                  .allowed = 0.01},
                 report);
}

Report run() {
  Report report;
  add_rows(test::RingForce::in_plane, "displacement of the tip, force in the plane", report);
  add_rows(test::RingForce::out_of_plane, "displacement of the tip, force out of the plane", report);
  return report;
}

}  // namespace

Problem curved_beam() {
  return {"curved-beam", "Curved beam", "Linear", "MacNeal and Harder 1985; Timoshenko and Goodier", Evidence::closed_form, run};
}

}  // namespace halftool::verification
