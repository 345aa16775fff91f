#include "tests/verification/squeezed_block.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

Report run() {
  Report report;
  for (const test::PointSheet& sheet : test::point_sheets())
    for (const double pressure : {0.0, 60.0, 100.0})
      for (const bool across : {false, true}) {
        const test::SqueezedBlock block = test::stretch_squeezed_block(sheet, pressure, across);
        const std::string where = fmt::format("{}, {} MPa, stretched {} rolling", sheet.name, pressure,
                                              across ? "across" : "along");
        report.rows.push_back(
            compare(where + ": first yield [MPa]", "5 points", block.first_yield, block.exact_first_yield));
        report.rows.back().allowed = 1e-8;
        report.rows.push_back(
            compare(where + ": plane-strain flow [MPa]", "5 points", block.flow, block.exact_flow));
        report.rows.back().allowed = 1e-8;
      }
  report.discussion =
      "Perfectly plastic, 250 MPa along rolling. The sheet between fluid and tool at one pressure p flows at "
      "the "
      "free sheet's plane-strain stress minus p; first yield moves by more than p because the elastic width "
      "stress "
      "follows s33 by Poisson's ratio.";
  return report;
}

}  // namespace

Problem squeezed_block() {
  return {"squeezed-block",        "Sheet between fluid and flat tool, stretched with its width held",
          "Plasticity at a point", "closed form: Hill 1948 on (s11 - s33, s22 - s33, s12)",
          Evidence::closed_form,   run};
}

}  // namespace halftool::verification
