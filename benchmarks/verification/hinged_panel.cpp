#include "tests/verification/hinged_panel.hpp"

#include <utility>
#include <vector>

#include "benchmarks/verification/curve_rows.hpp"
#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

void add_points(std::span<const test::PathPoint> path, Series& series) {
  for (const test::PathPoint& point : path) series.points.emplace_back(point.deflection, point.share);
}

void add_rows(test::Panel panel, const std::string& thickness, unsigned seed, Chart& chart, Report& report) {
  const auto table = test::panel_table(panel);
  const test::PathPoint published = test::limit_point(table);
  double coarser = 0;
  std::vector<double> limits;
  for (const int divisions : {8, 16, 32}) {
    const test::MeshChoice choice{divisions, seed, true};
    const test::PanelPath path = test::follow_panel(panel, choice);
    Row limit = compare("limit load of " + thickness + ", over 3000 N", square_mesh(choice),
                        test::limit_point(path).share, published.share);
    limits.push_back(limit.value);
    if (limits.size() == 3) limit.rate = observed_rate(limits[0] - limits[1], limits[1] - limits[2]);
    Row distance;
    distance.quantity = "whole path of " + thickness + ", largest distance";
    distance.mesh = square_mesh(choice);
    distance.value = distance.error = test::largest_distance(path, table);
    distance.rate = observed_rate(coarser, distance.error);
    distance.remark = "over the limit point's load and deflection";
    coarser = distance.error;
    if (divisions == 32) limit.allowed = distance.allowed = 0.01;
    report.rows.push_back(limit);
    report.rows.push_back(distance);
    if (divisions < 32 || seed != 1) continue;
    chart.series.push_back({thickness + ", " + square_mesh(choice), {}, false});
    add_points(path, chart.series.back());
  }
}

Report run() {
  Report report;
  Chart chart{
      "hinged_panel", "Hinged cylindrical panel", "deflection under the force [mm]", "force / 3000 N", {}};
  Series table{"Sze, Liu and Lo 2004", {}, true};
  for (const auto& [panel, thickness] :
       {std::pair{test::Panel::thick, "12.7 mm"}, std::pair{test::Panel::thin, "6.35 mm"}}) {
    for (const unsigned seed : {0U, 1U, 2U, 3U}) add_rows(panel, thickness, seed, chart, report);
    add_points(test::panel_table(panel), table);
  }
  chart.series.push_back(table);
  report.charts.push_back(chart);
  return report;
}

}  // namespace

Problem hinged_panel() {
  return {"hinged-panel",
          "Hinged cylindrical panel snapping through",
          "Elastic, large rotation",
          "Sze, Liu and Lo 2004, problem 3.8, isotropic",
          Evidence::quoted,
          run};
}

}  // namespace halftool::verification
