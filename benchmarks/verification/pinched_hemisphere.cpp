#include "tests/verification/pinched_hemisphere.hpp"

#include "benchmarks/verification/curve_rows.hpp"
#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

Report run() {
  const test::CurveProblem problem = test::pinched_hemisphere();
  Report report;
  for (const unsigned seed : {0U, 1U, 2U, 3U}) {
    const auto runs = run_meshes(problem, {8, 16, 32}, seed);
    for (const int column : {0, 1}) add_rows(problem, runs, {.column = column, .allowed = 0.015}, report);
    if (seed == 1)
      report.charts.push_back(
          curve_chart(problem, {runs.back()}, "pinched_hemisphere", "Pinched hemisphere"));
  }
  return report;
}

}  // namespace

Problem pinched_hemisphere() {
  return {"pinched-hemisphere",      "Hemisphere with a hole, pulled and pinched",
          "Elastic, large rotation", "Sze, Liu and Lo 2004, problem 3.4",
          Evidence::quoted,          run};
}

}  // namespace halftool::verification
