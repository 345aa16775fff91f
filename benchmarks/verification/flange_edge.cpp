#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "benchmarks/verification/problems.hpp"
#include "tests/verification/cup_ears.hpp"
#include "tests/verification/flange_strip.hpp"
#include "tests/verification/ring_flange.hpp"

namespace halftool::verification {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

const char* const kDiscussion =
    "Closed rings: a hole of 48 mm in 1.2 mm sheet, flanged over a wall of 60 mm (R 3.2), to 90 and to 45 "
    "degrees, "
    "and a disc of 128 mm, 0.8 mm thick, over a block of 123 mm (R 1.5). The relation between thickness and "
    "strain "
    "says nothing of the stress across the sheet. A flange bears on its tool with its very edge: at 45 "
    "degrees and 60 "
    "MPa the contact pressure there is 75 MPa while the cut edge bears the fluid's 60, and the edge thins by "
    "more. "
    "With the pressures kept out of the metal it follows the relation within 1 % there. The disc's rim, "
    "compressed round the block, holds itself off: it bears on the tool with 17 MPa while the cut edge bears "
    "60, so it is squeezed from the edge and thickens by more (-0.547); kept out of the metal but not off "
    "the edge the difference grows (-0.613), with neither it is gone (-0.502). At 45 degrees the bend draws "
    "the flange out (strain along the flange 0.026 in the bend) and the flange shortens as its edge "
    "stretches: the "
    "hand formula, which keeps the flange's length, leaves out both. Sectors with free ends are strained "
    "less than a "
    "ring, the more so the shorter they are and the narrower their web.";

struct Shape {
  const char* name;
  test::RingFlange flange;
};

Shape hole(double turn, double elements) {
  test::RingFlange flange;
  flange.material = test::sheet_6061_o();
  flange.turn = turn * kDegree;
  flange.elements_per_bend = elements;
  return {turn == 90 ? "hole, 90 degrees" : "hole, 45 degrees", flange};
}

Shape disc() {
  test::RingFlange flange;
  flange.material = test::sheet_6061_o();
  flange.inward = false;
  flange.axis_radius = 60;
  flange.edge_radius = 1.5;
  flange.thickness = 0.8;
  flange.overhang = 4;
  flange.web = 15;
  flange.elements_per_bend = 4;
  return {"disc, 90 degrees", flange};
}

std::string mesh_of(const Shape& shape) {
  return fmt::format("irregular, {:g} over the bend", shape.flange.elements_per_bend);
}

std::string words_of(const Shape& shape) {
  std::string words = shape.name;
  if (shape.flange.friction > 0) words += fmt::format(", friction {:g}", shape.flange.friction);
  if (!shape.flange.normal_stress) words += ", pressures kept out of the metal";
  if (!shape.flange.edges_loaded) words += " and off its edge";
  return words;
}

/// Edge of a closed ring: its strain and its thickness.
void add_ring(const Shape& shape, Report& report) {
  const test::RingEdge edge = test::press_ring(shape.flange);
  if (!edge.broken_off.empty()) throw std::runtime_error(edge.broken_off);
  const bool upright = shape.flange.turn > 89 * kDegree;
  const double expected =
      upright ? test::edge_strain_on_wall(shape.flange) : test::edge_strain_by_hand(shape.flange);
  Row strain = compare("strain along the edge against ln(R/R0), " + words_of(shape), mesh_of(shape),
                       edge.strain, expected);
  strain.allowed = 0.01;
  strain.remark = fmt::format("scatter of single edges {:.4f}", edge.scatter);
  if (!strain.holds())
    strain.remark += upright ? "; lies off the wall by a hundredth of a millimetre"
                             : "; the flange does not keep its length, see below";
  Row ratio = compare("thickness at the edge over t0, against (R/R0)^(-1/2), " + words_of(shape),
                      mesh_of(shape), std::exp(edge.thickness_strain), std::exp(-0.5 * edge.strain));
  ratio.allowed = 0.01;
  Row share = compare("thickness strain over strain along the edge, " + words_of(shape), mesh_of(shape),
                      edge.thickness_strain / edge.strain, -0.5);
  share.allowed = 0.02;
  if (!share.holds())
    share.remark =
        fmt::format("the edge bears on the tool with {:.0f} MPa under {:g} MPa of fluid, see below",
                    edge.contact_pressure, shape.flange.pressure);
  for (Row* row : {&strain, &ratio, &share}) report.rows.push_back(*row);
}

/// Edge of a hole in a sheet whose r-values vary in the plane.
void add_anisotropic(Report& report) {
  Shape shape = hole(90, 4);
  const solver::RValues r{1.5, 0.6, 1.0};
  shape.flange.material.yield = r;
  const test::RingEdge edge = test::press_ring(shape.flange);
  if (!edge.broken_off.empty()) throw std::runtime_error(edge.broken_off);
  for (const double angle : {0.0, 45.0, 90.0}) {
    const double along = test::r_value(r, (angle + 90) * kDegree);
    Row row = compare(fmt::format("thickness strain over strain along the edge, {:g} degrees from rolling, r "
                                  "along it {:g}, against -1/(1 + r), {}",
                                  angle, along, words_of(shape)),
                      mesh_of(shape), test::thickness_ratio_at(edge, angle * kDegree), -1 / (1 + along));
    row.allowed = 0.05;
    row.remark = "mean over 16 degrees (8 at the ends)";
    report.rows.push_back(row);
  }
}

/// Middle of an edge with two free ends, against the ring's relation.
void add_sector(bool inward, double half, double web, Report& report) {
  test::RingFlange flange;
  flange.material = test::sheet_6061_o();
  flange.inward = inward;
  flange.axis_radius = 60;
  flange.overhang = inward ? 10 : 8;
  flange.thickness = inward ? 1.2 : 1;
  flange.edge_radius = inward ? 3.2 : 3;
  flange.web = web;
  flange.half_sector = half * kDegree;
  flange.friction = 0.1;
  flange.elements_per_bend = 4;
  const Shape shape{inward ? "concave edge" : "convex edge", flange};
  const test::RingEdge edge = test::press_ring(flange);
  if (!edge.broken_off.empty()) throw std::runtime_error(edge.broken_off);
  Row row = compare(fmt::format("strain along the middle half of the edge against ln(R/R0), {}, {:g} degrees "
                                "between free ends, web {:g} mm",
                                shape.name, 2 * half, web),
                    mesh_of(shape), edge.strain, test::edge_strain_by_hand(flange));
  row.remark = fmt::format("free ends; scatter of single edges {:.4f}", edge.scatter);
  report.rows.push_back(row);
}

Report run() {
  Report report;
  for (const double elements : {4.0, 6.0}) add_ring(hole(90, elements), report);
  Shape shape = hole(90, 4);
  shape.flange.friction = 0.1;
  add_ring(shape, report);
  add_ring(hole(45, 6), report);
  shape = hole(45, 6);
  shape.flange.normal_stress = false;
  add_ring(shape, report);
  add_ring(disc(), report);
  shape = disc();
  shape.flange.normal_stress = false;
  shape.flange.edges_loaded = false;
  add_ring(shape, report);
  add_anisotropic(report);
  add_sector(true, 30, 20, report);
  add_sector(true, 60, 20, report);
  add_sector(true, 60, 60, report);
  add_sector(false, 30, 15, report);
  report.discussion = kDiscussion;
  return report;
}

}  // namespace

Problem flange_edge() {
  return {"flange-edge",
          "Edges of stretch and shrink flanges and of flanged holes",
          "Flange",
          "kinematics of a ring, ln(R/R0), and uniaxial stress along a free edge, -1/(1 + r) (own "
          "arithmetic; the "
          "ring as in Wang and Wenner, Int. J. Mech. Sci. 16 (1974) 135-143, not read)",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
