#include "benchmarks/verification/curve_rows.hpp"

#include <fmt/format.h>

namespace halftool::verification {
namespace {

// From the changes of the displacement under the whole load between three meshes.
std::optional<double> rate_at(const std::vector<CurveRun>& runs, std::size_t i, int column) {
  if (i < 2) return std::nullopt;
  const auto end = [&](std::size_t run) { return runs[run].curve.back().displacement[column]; };
  return observed_rate(end(i - 2) - end(i - 1), end(i - 1) - end(i),
                       runs[i].choice.divisions / static_cast<double>(runs[i - 1].choice.divisions));
}

}  // namespace

std::string square_mesh(const test::MeshChoice& choice) {
  return mesh_words(choice.divisions, choice.divisions, choice.seed);
}

std::string ring_mesh(const test::MeshChoice& choice) {
  return mesh_words(choice.divisions, 12 * choice.divisions, choice.seed);
}

std::vector<CurveRun> run_meshes(const test::CurveProblem& problem, const std::vector<int>& divisions,
                                 unsigned seed, bool bows,
                                 const std::function<std::string(const test::MeshChoice&)>& words) {
  std::vector<CurveRun> runs;
  for (const int n : divisions) {
    const test::MeshChoice choice{n, seed, bows};
    runs.push_back({choice, words(choice), problem.run(choice)});
  }
  return runs;
}

void add_rows(const test::CurveProblem& problem, const std::vector<CurveRun>& runs, const CurveCheck& check,
              Report& report) {
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const test::Miss miss =
        test::largest_miss(runs[i].curve, problem.table, check.column, check.measure, check.counts);
    Row row;
    row.quantity = fmt::format("{}, worst of {}", problem.displacements[check.column], check.loads);
    row.mesh = runs[i].mesh;
    row.value = miss.computed;
    row.reference = miss.table;
    row.error = miss.error;
    row.rate = rate_at(runs, i, check.column);
    if (check.allowed > 0 && i + 1 == runs.size()) row.allowed = check.allowed;
    row.remark = fmt::format("at {:g} of the load", miss.share);
    report.rows.push_back(row);
  }
}

Chart curve_chart(const test::CurveProblem& problem, const std::vector<CurveRun>& runs,
                  const std::string& name, const std::string& title) {
  Chart chart{name, title, "displacement [mm]", "share of the greatest load", {}};
  Series table{"Sze, Liu and Lo 2004", {}, true};
  for (std::size_t column = 0; column < problem.displacements.size(); ++column) {
    for (const CurveRun& run : runs) {
      Series ours{fmt::format("{}, {}", problem.displacements[column], run.mesh), {{0, 0}}, false};
      for (const auto& point : run.curve) ours.points.emplace_back(point.displacement[column], point.share);
      chart.series.push_back(ours);
    }
    for (const auto& point : problem.table)
      table.points.emplace_back(point.displacement[column], point.share);
  }
  chart.series.push_back(table);
  return chart;
}

}  // namespace halftool::verification
