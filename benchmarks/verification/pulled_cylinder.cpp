#include "tests/verification/pulled_cylinder.hpp"

#include "benchmarks/verification/curve_rows.hpp"
#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

bool away_from_snap(double share) {
  return !test::near_snap(share);
}

Report run() {
  const test::CurveProblem problem = test::pulled_cylinder();
  Report report;
  for (const unsigned seed : {0U, 1U, 2U, 3U}) {
    const auto runs = run_meshes(problem, {8, 16, 32}, seed);
    for (const int column : {0, 1, 2}) {
      add_rows(problem, runs, {column, 0, away_from_snap, "loads away from the snap", 0.02}, report);
      add_rows(problem, {runs.back()}, {column, 0, test::near_snap, "loads near the snap", 0.05}, report);
    }
    if (seed == 1)
      report.charts.push_back(
          curve_chart(problem, {runs.back()}, "pulled_cylinder", "Pulled cylinder with free ends"));
  }
  return report;
}

}  // namespace

Problem pulled_cylinder() {
  return {"pulled-cylinder",         "Cylinder with free ends, pulled",
          "Elastic, large rotation", "Sze, Liu and Lo 2004, problem 3.5",
          Evidence::quoted,          run};
}

}  // namespace halftool::verification
