#include "tests/verification/measured_limits.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

constexpr double kRate = 0.02;  // of low-carbon and interstitial-free steel (from memory)

Report run() {
  Report report;
  const double with_rate =
      test::plane_strain_limit_with_rate(test::exponent_of_measured_steel(), kRate, 0.005);
  const auto coarse = test::limits_of_measured_paths();
  const auto rows = test::limits_of_measured_paths(2);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    report.rows.push_back(
        compare("major true strain, " + rows[i].path, "steps halved", rows[i].value, rows[i].reference));
    report.rows.back().allowed = rows[i].tolerance / rows[i].reference;
    report.rows.back().remark =
        fmt::format("no rate sensitivity in the computed metal, see the last row{}; default steps: {:+.5f}",
                    i == 2 ? "; under equal strains the limit hangs on the yield condition too" : "",
                    coarse[i].value - rows[i].value);
  }
  report.rows.push_back(
      compare(fmt::format("the same in plane strain with rate sensitivity {:g}, by integral", kRate),
              "power law", with_rate, rows[0].reference));
  report.rows.back().remark = "not computed by the program: what it leaves out";
  report.discussion = fmt::format(
      "Interstitial-free steel, imperfection 0.005 as by default, no constant fitted. In plane strain the "
      "computed limit is too low, on the safe side: the program's metal knows no rate, and a steel whose "
      "flow "
      "stress rises with the rate to the power {:g} slows its groove down. The integral of Hutchinson and "
      "Neale "
      "(1978) for that rate sensitivity, same exponent and imperfection, gives {:.3f}. Strains measured 4 mm "
      "from the middle of the neck are 0.367 to 0.396 (plane strain) and 0.487 (equibiaxial): the edge of a "
      "neck is a matter of 0.03 to 0.06.",
      kRate, with_rate);
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
