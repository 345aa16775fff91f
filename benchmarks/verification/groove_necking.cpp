#include "tests/verification/groove_necking.hpp"

#include <cstdio>

#include "benchmarks/verification/problems.hpp"
#include "tests/verification/anisotropic_groove.hpp"

namespace halftool::verification {
namespace {

void add(const std::vector<test::LimitStrain>& coarse, const std::vector<test::LimitStrain>& fine,
         const std::string& remark, Report& report) {
  for (std::size_t i = 0; i < fine.size(); ++i) {
    const double moved = coarse[i].value - fine[i].value;
    report.rows.push_back(compare(fine[i].path, "steps halved", fine[i].value, fine[i].reference));
    report.rows.back().allowed = fine[i].tolerance / fine[i].reference;
    char text[60];
    (void)std::snprintf(text, sizeof text, "default steps: %+.5f", moved);
    report.rows.back().remark = remark + text;
  }
}

Report run() {
  Report report;
  add(test::grooves_in_plane_strain(), test::grooves_in_plane_strain(2), "", report);
  add(test::grooves_that_vanish(), test::grooves_that_vanish(2), "limit of no groove; ", report);
  add(test::grooves_of_equal_thinning(), test::grooves_of_equal_thinning(2), "slope -1 from plane strain; ",
      report);
  add(test::grooves_in_biaxial_tension(), test::grooves_in_biaxial_tension(2),
      "second program of our own, no publication; ", report);
  add(test::grooves_of_anisotropic_sheets(), test::grooves_of_anisotropic_sheets(2),
      "second program of our own, no publication; ", report);
  add(test::grooves_under_pressure(), test::grooves_under_pressure(2),
      "pressed between flat faces, own arithmetic; ", report);
  report.discussion =
      "Major true strain at which a groove takes over. Limits of biaxial tension under von Mises yield are "
      "known "
      "to lie too high: the rows check the computation, not the prediction.";
  return report;
}

}  // namespace

Problem groove_necking() {
  return {"groove-necking",
          "Limit strains of a sheet with a groove",
          "Forming limits",
          "Marciniak and Kuczynski 1967; Hutchinson and Neale 1978 (plane strain, exact); Hill 1952; Keeler "
          "and Brazier 1977 (slope)",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
