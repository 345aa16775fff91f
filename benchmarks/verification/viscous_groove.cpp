#include "tests/verification/viscous_groove.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

void add(const std::vector<test::LimitStrain>& coarse, const std::vector<test::LimitStrain>& fine,
         Report& report) {
  for (std::size_t i = 0; i < fine.size(); ++i) {
    report.rows.push_back(compare(fine[i].path, "steps halved", fine[i].value, fine[i].reference));
    report.rows.back().allowed = fine[i].tolerance / fine[i].reference;
    report.rows.back().remark = fmt::format("whole steps: {:+.5f}", coarse[i].value - fine[i].value);
  }
}

Report run() {
  Report report;
  add(test::viscous_grooves_across(), test::viscous_grooves_across(2), report);
  add(test::viscous_grooves_under_hill(), test::viscous_grooves_under_hill(2), report);
  add(test::oblique_newtonian_grooves(), test::oblique_newtonian_grooves(2), report);
  report.discussion =
      "Major true strain at which a groove takes over in a sheet that does not harden and whose flow stress "
      "goes as the m-th power of the strain rate. Such a groove's growth is an integral on every straight "
      "path, and a closed form for any first angle of the groove where m = 1: off plane strain these are the "
      "only limits here that need no second program. They say nothing of hardening, which plane strain "
      "checks.";
  return report;
}

}  // namespace

Problem viscous_groove() {
  return {"viscous-groove",
          "Limit strains of a viscous sheet with a groove, off plane strain",
          "Forming limits",
          "own arithmetic: integral over the rate of the groove; in plane strain Hutchinson and Neale 1977 "
          "(from memory)",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
