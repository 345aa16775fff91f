#include "tests/verification/rate_groove.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

void add(const std::vector<test::LimitStrain>& rows, const std::string& mesh, Report& report) {
  for (const test::LimitStrain& row : rows) {
    report.rows.push_back(compare(row.path, mesh, row.value, row.reference));
    report.rows.back().allowed = row.tolerance / row.reference;
  }
}

/// With steps halved, and by how much that moved each.
void add(const std::vector<test::LimitStrain>& coarse, const std::vector<test::LimitStrain>& fine,
         const std::string& remark, Report& report) {
  const std::size_t first = report.rows.size();
  add(fine, "steps halved", report);
  for (std::size_t i = 0; i < fine.size(); ++i)
    report.rows[first + i].remark =
        fmt::format("{}default steps: {:+.5f}", remark, coarse[i].value - fine[i].value);
}

Report run() {
  Report report;
  add(test::rate_grooves_in_plane_strain(), test::rate_grooves_in_plane_strain(2), "", report);
  add(test::rate_grooves_on_other_paths(), test::rate_grooves_on_other_paths(2),
      "second program of our own, no publication; ", report);
  add(test::rate_grooves_without_rate(), test::rate_grooves_without_rate(2), "against m = 0; ", report);
  add(test::rate_grooves_followed_further(), "to 200 times the rate, against 100", report);
  report.discussion =
      "Major true strain at which a groove takes over where flow stress rises with the m-th power of the "
      "strain rate. A groove counts as having taken over when it strains a hundred times as fast as the "
      "sheet, and "
      "what the sheet still takes then is added from the way its rate falls.";
  return report;
}

}  // namespace

Problem rate_groove() {
  return {"rate-groove",
          "Limit strains of a rate-sensitive sheet with a groove",
          "Forming limits",
          "Hutchinson and Neale 1977, integral for long wavelengths (from memory, re-derived); its closed "
          "form at n = 0",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
