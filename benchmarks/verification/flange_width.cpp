#include <fmt/format.h>

#include <numbers>
#include <string>
#include <vector>

#include "benchmarks/verification/problems.hpp"
#include "tests/verification/flange_strip.hpp"

namespace halftool::verification {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

const char* const kDiscussion =
    "A flange that is wide beside its bend radius is in plane strain, as the pure bend is; a narrow strip is "
    "not. It bends across as well as along (6061-O, 10 mm wide, 2 MPa: mean curvatures of 0.016 per mm "
    "across "
    "and 0.060 along). Full pressure presses that down to half (0.008), the metal yields across (mean "
    "moments "
    "of -56 N there, +5 N before) and the moment along falls from 39 to 72 N to 29 to 55 N (plane strain: "
    "from "
    "73 to 62 N). 2024-T3 80 and 150 mm wide reads 16.0 and 16.4 deg. A test strip a few thicknesses wide "
    "says "
    "little about a wide flange. Mesh: 2024-T3, 10 mm wide, reads 11.73, 11.71 and 11.69 deg with regular "
    "cells, 20, 28 and 40 over the bend, and 11.97, 11.69 and 11.64 with irregular triangles (23 points, "
    "half increments, contact five times stiffer).";

void add_sheet(const std::string& name, const solver::SheetMaterial& metal, const std::vector<double>& widths,
               Report& report) {
  test::FlangeStrip setup;
  setup.material = metal;
  setup.edge_radius = 16;
  setup.coarsest = test::kFlangeThickness;
  const double wide = test::press_flange(setup).springback / kDegree;
  setup.model = test::StripModel::free_sides;
  for (const double width : widths) {
    setup.width = width;
    const test::FlangeResult pressed = test::press_flange(setup);
    Row row =
        compare(fmt::format("springback [deg], {}, R/t 10.50, 100 MPa, {:g} mm wide, against plane strain",
                            name, width),
                "irregular, 1.6 mm", pressed.springback / kDegree, wide);
    row.remark = fmt::format("opens in the bend {:.2f} deg{}", pressed.turn_bend / kDegree,
                             pressed.rests ? "" : ", the pressing has doubts");
    report.rows.push_back(row);
  }
}

Report run_flange_width() {
  Report report;
  add_sheet("6061-O", test::sheet_6061_o(), {10, 20}, report);
  add_sheet("2024-T3", test::sheet_2024_t3(), {10, 20, 40}, report);
  report.discussion = kDiscussion;
  return report;
}

}  // namespace

Problem flange_width() {
  return {"flange-width",
          "Springback of a narrow sheet with free sides against plane strain",
          "Flange",
          "our own strip between planes of symmetry, same mesh and settings",
          Evidence::own_fine_mesh,
          run_flange_width};
}

}  // namespace halftool::verification
