#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "benchmarks/verification/curve_rows.hpp"
#include "benchmarks/verification/problems.hpp"
#include "tests/verification/pinched_cylinder.hpp"
#include "tests/verification/pinched_hemisphere.hpp"
#include "tests/verification/pulled_cylinder.hpp"
#include "tests/verification/slit_ring.hpp"

namespace halftool::verification {
namespace {

struct Comparison {
  std::string name;
  test::CurveProblem problem;
  std::vector<int> divisions;
  std::function<std::string(const test::MeshChoice&)> mesh = square_mesh;
  std::function<bool(double share)> counts = {};
};

std::vector<Comparison> comparisons() {
  const auto away_from_snap = [](double share) { return !test::near_snap(share); };
  return {{"slit ring", test::slit_ring(), {4, 8}, ring_mesh},
          {"hemisphere", test::pinched_hemisphere(), {8, 16, 32}},
          {"pulled cylinder", test::pulled_cylinder(), {8, 16}, square_mesh, away_from_snap},
          {"pinched cylinder", test::pinched_cylinder(0.1), {24, 48}}};
}

// Adds the rows of one seed and membrane; the largest error of the first displacement on the finest mesh.
double add_membrane(const Comparison& comparison, unsigned seed, bool bows, Report& report) {
  const auto words = [&](const test::MeshChoice& choice) {
    return fmt::format("{}, {}", comparison.mesh(choice), bows ? "bows" : "constant strain");
  };
  test::CurveProblem named = comparison.problem;
  for (std::string& displacement : named.displacements) displacement = comparison.name + ", " + displacement;
  const auto runs = run_meshes(named, comparison.divisions, seed, bows, words);
  add_rows(named, runs, {.column = 0, .counts = comparison.counts, .loads = "its loads"}, report);
  return std::abs(report.rows.back().error);
}

Report run() {
  Report report;
  for (const Comparison& comparison : comparisons()) {
    double with = 0;
    double without = 0;
    for (const unsigned seed : {0U, 1U}) {
      with = std::max(with, add_membrane(comparison, seed, true, report));
      without = std::max(without, add_membrane(comparison, seed, false, report));
    }
    report.discussion +=
        fmt::format("{}{}: {:.1f} % with bows, {:.1f} % with constant strain",
                    report.discussion.empty() ? "" : "; ", comparison.name, 100 * with, 100 * without);
  }
  report.discussion =
      "Largest errors on the finest meshes here, structured and irregular: " + report.discussion +
      ". The bows matter where a flat part is bent in its own plane (ring). On the curved shells both "
      "membranes mostly "
      "err on the soft side, the constant-strain one a little less. The bows are one unknown more an edge, "
      "nine "
      "instead of six a node of the mesh.";
  return report;
}

}  // namespace

Problem membrane() {
  return {"membrane",
          "Mid-side bows against the constant-strain membrane",
          "Elastic, large rotation",
          "Sze, Liu and Lo 2004, problems 3.3 to 3.6",
          Evidence::quoted,
          run};
}

}  // namespace halftool::verification
