#include "tests/verification/curved_beam.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"

namespace halftool::verification {
namespace {

void add_rows(test::RingForce force, const std::string& quantity, Report& report) {
  add_refinement(
      {.quantity = quantity,
       .reference = test::curved_beam_reference(force),
       .value = [force](int divisions,
                        unsigned seed) { return test::curved_beam_displacement(force, divisions, seed); },
       .cells = [](int divisions) { return fmt::format("{} x {}", divisions, divisions / 8); },
       .divisions = {8, 16, 32, 64, 128, 256},
       .judged = 32,
       .allowed = 0.01,
       .if_missed = "bending in the plane of the sheet, see below"},
      report);
}

Report run() {
  Report report;
  add_rows(test::RingForce::in_plane, "displacement of the tip, force in the plane", report);
  add_rows(test::RingForce::out_of_plane, "displacement of the tip, force out of the plane", report);
  report.discussion = fmt::format(
      "One linear step. In the plane, an edge has its bow across itself but no displacement of its middle "
      "along itself. "
      "Pure bending of a cell of length a needs the latter on the diagonal; without it a shear of about half "
      "the "
      "curvature times a is left, whatever the cell's width, so that the error goes as (a / beam width)^2: "
      "with 32 cells "
      "along, as long as the beam is wide, 1, 2, 4 and 8 cells across read -14.5, -13.7, -13.1 and -12.7 % "
      "(constant "
      "strain: -78 to -57 %). MacNeal and Harder's value is {}. Out of the plane they give {} for a bar of "
      "this section, "
      "whose torsional stiffness is 0.229 G b t^3; a plate strip has a third, hence {:.4f}. That leaves out "
      "that the clamp "
      "keeps the end from warping: with 16 cells across ours is 0.72 % lower, and 0.35 % with half the width "
      "and thickness.",
      test::curved_beam_handbook(test::RingForce::in_plane),
      test::curved_beam_handbook(test::RingForce::out_of_plane),
      test::curved_beam_reference(test::RingForce::out_of_plane));
  return report;
}

}  // namespace

Problem curved_beam() {
  return {"curved-beam",
          "Curved beam",
          "Linear",
          "MacNeal and Harder 1985; Timoshenko and Goodier",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
