#include "tests/verification/slit_ring.hpp"

#include "benchmarks/verification/curve_rows.hpp"
#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

Report run() {
  const test::CurveProblem problem = test::slit_ring();
  Report report;
  for (const unsigned seed : {0U, 1U, 2U, 3U}) {
    const auto runs = run_meshes(problem, {2, 4, 8}, seed, true, ring_mesh);
    for (const int column : {0, 1}) add_rows(problem, runs, {.column = column, .allowed = 0.01}, report);
    if (seed == 1)
      report.charts.push_back(
          curve_chart(problem, {runs.back()}, "slit_ring", "Slit annular plate under a lifting line load"));
  }
  const auto finest = run_meshes(problem, {16}, 0, true, ring_mesh);
  for (const int column : {0, 1}) add_rows(problem, finest, {.column = column, .allowed = 0.01}, report);
  return report;
}

}  // namespace

Problem slit_ring() {
  return {"slit-ring",
          "Slit annular plate under a lifting line load",
          "Elastic, large rotation",
          "Sze, Liu and Lo 2004, problem 3.3",
          Evidence::quoted,
          run};
}

}  // namespace halftool::verification
