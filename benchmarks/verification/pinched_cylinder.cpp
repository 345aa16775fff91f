#include "tests/verification/pinched_cylinder.hpp"

#include "benchmarks/verification/curve_rows.hpp"
#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

constexpr double kBeforeStandstill = 0.125;

bool away_from_standstill(double share) {
  return !test::near_standstill(share);
}

// Coarse meshes up to the standstill of the load only, see test::pinched_cylinder.
void add_coarse_rows(Report& report) {
  const test::CurveProblem problem = test::pinched_cylinder(kBeforeStandstill);
  for (const unsigned seed : {0U, 1U, 2U, 3U})
    add_rows(problem, run_meshes(problem, {16, 32, 64}, seed), {.column = 0, .loads = "loads to 0.125"},
             report);
}

void add_fine_rows(Report& report) {
  const test::CurveProblem problem = test::pinched_cylinder();
  const double whole = problem.table.back().displacement[1];
  for (const unsigned seed : {0U, 1U}) {
    const auto runs = run_meshes(problem, {64}, seed);
    add_rows(problem, runs, {0, 0, away_from_standstill, "loads away from the standstill", 0.05}, report);
    add_rows(problem, runs, {0, 0, test::near_standstill, "loads near the standstill", 0.05}, report);
    add_rows(problem, runs,
             {1, whole, away_from_standstill, "loads away from the standstill, over its greatest", 0.05},
             report);
    add_rows(problem, runs,
             {1, whole, test::near_standstill, "loads near the standstill, over its greatest", 0.05}, report);
    if (seed == 0)
      report.charts.push_back(
          curve_chart(problem, runs, "pinched_cylinder", "Cylinder pinched between rigid end plates"));
  }
}

Report run() {
  Report report;
  add_coarse_rows(report);
  add_fine_rows(report);
  return report;
}

}  // namespace

Problem pinched_cylinder() {
  return {"pinched-cylinder",        "Cylinder pinched between rigid end plates",
          "Elastic, large rotation", "Sze, Liu and Lo 2004, problem 3.6",
          Evidence::quoted,          run};
}

}  // namespace halftool::verification
