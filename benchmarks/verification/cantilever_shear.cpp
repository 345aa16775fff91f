#include "tests/verification/cantilever_shear.hpp"

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

void add_rows(unsigned seed, Report& report) {
  const double exact = test::kCantileverLength * test::elastica_deflection(test::kCantileverForce);
  double coarser = 0;
  for (const int divisions : {8, 16, 32}) {
    const auto tips = test::bend_cantilever(divisions, seed);
    Row end = compare("deflection of the tip at P = 4, elastica", mesh_words(divisions, divisions / 8, seed),
                      tips.back().deflection, exact);
    end.rate = observed_rate(coarser, end.error);
    coarser = end.error;
    if (divisions == 32) end.allowed = 0.003;
    report.rows.push_back(end);
    if (divisions < 32) continue;
    Row curve = compare("tip, worst of 20 loads, table", mesh_words(divisions, divisions / 8, seed),
                        tips.back().deflection, test::kCantileverTable.back().deflection);
    curve.error = test::worst_miss(tips);
    curve.allowed = 0.003;
    report.rows.push_back(curve);
    if (seed == 1) {
      Series ours{mesh_words(divisions, divisions / 8, seed), {{0, 0}}, false};
      for (const auto& tip : tips)
        ours.points.emplace_back(tip.deflection, tip.share * test::kCantileverForce);
      report.charts.front().series.insert(report.charts.front().series.begin(), ours);
    }
  }
}

Report run() {
  Report report;
  Chart chart{
      "cantilever_shear", "Cantilever under end shear", "deflection of the tip [mm]", "force [N]", {}};
  Series table{"Sze, Liu and Lo 2004", {}, true};
  for (const auto& tip : test::kCantileverTable)
    table.points.emplace_back(tip.deflection, tip.share * test::kCantileverForce);
  chart.series.push_back(table);
  report.charts.push_back(chart);
  for (const unsigned seed : {0U, 1U, 2U, 3U}) add_rows(seed, report);
  return report;
}

}  // namespace

Problem cantilever_shear() {
  return {"cantilever-shear",        "Cantilever under end shear",
          "Elastic, large rotation", "Sze, Liu and Lo 2004, problem 3.1; elastica: Bisshopp and Drucker 1945",
          Evidence::quoted,          run};
}

}  // namespace halftool::verification
