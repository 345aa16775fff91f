#include "tests/verification/measured_limits.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

void add(double rate_exponent, bool binding, const std::string& remark, Report& report) {
  const auto coarse = test::limits_of_measured_paths(rate_exponent);
  const auto rows = test::limits_of_measured_paths(rate_exponent, 2);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    report.rows.push_back(compare(fmt::format("major true strain, {}, m = {:g}", rows[i].path, rate_exponent),
                                  "steps halved", rows[i].value, rows[i].reference));
    Row& row = report.rows.back();
    if (binding) row.allowed = rows[i].tolerance / rows[i].reference;
    row.remark = fmt::format(
        "{}{}; default steps: {:+.5f}", remark,
        binding && i == 2 ? "; under equal strains the limit hangs on the yield condition, see the last rows"
                          : "",
        coarse[i].value - rows[i].value);
  }
}

Report run() {
  Report report;
  constexpr double usual = test::kRateExponentOfSteel;
  add(usual, true, "m from memory", report);
  add(0, false, "informs only: without rate sensitivity", report);
  add(0.05, false, "informs only: m that the program gives all its metals", report);
  for (const test::LimitStrain& other : test::equibiaxial_limits_by_yield(usual)) {
    report.rows.push_back(
        compare(fmt::format("major true strain, equibiaxial, m = {:g}, {}", usual, other.path),
                "default steps", other.value, other.reference));
    report.rows.back().remark = "informs only: another yield condition, all else the same";
  }
  report.discussion =
      "Interstitial-free steel, imperfection 0.005 as by default, no constant fitted, yield of Hill 1948. "
      "Without rate sensitivity, which slows a groove down, the computed limit in plane strain is too low, "
      "on "
      "the safe side. Under equal strains it hangs on the yield condition, of which the steel's r-values say "
      "little. Strains measured 4 mm from the middle of the neck are 0.367 to 0.396 (plane strain) and 0.487 "
      "(equibiaxial): the edge of a neck is a matter of 0.03 to 0.06.";
  return report;
}

}  // namespace

Problem measured_limits() {
  return {"measured-limits",
          "Limit strains of a steel, measured",
          "Forming limits",
          "Jeong 2012, strains beside the neck, published as a table with a program, no paper named",
          Evidence::published,
          run};
}

}  // namespace halftool::verification
