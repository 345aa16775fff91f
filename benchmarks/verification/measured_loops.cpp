#include "tests/verification/measured_loops.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

constexpr double kAllowed = 0.05;

void add(const test::MeasuredLoop& loop, bool binding, const std::string& remark, Report& report) {
  for (const double step : {1e-3, 1e-4}) {
    const auto misses = test::leg_misses(loop, step);
    for (std::size_t i = 0; i < misses.size(); ++i) {
      Row row;
      row.quantity =
          loop.name + ": stress in " + loop.leg_names[i] + ", root mean square miss over the largest";
      row.mesh = fmt::format("strain steps of {:g}", step);
      row.value = row.error = misses[i];
      if (binding) row.allowed = kAllowed;
      if (misses[i] > kAllowed) row.remark = remark;
      report.rows.push_back(row);
    }
  }
}

Series line(const std::string& label, const std::vector<test::MeasuredPoint>& points, bool is_reference) {
  Series series{label, {}, is_reference};
  for (const test::MeasuredPoint& at : points) series.points.emplace_back(at.strain, at.stress);
  return series;
}

Chart chart(const test::MeasuredLoop& loop, const std::string& name) {
  Chart drawn{name, loop.name, "true strain", "true stress [MPa]", {}};
  test::MeasuredLeg measured;
  for (const test::MeasuredLeg& leg : loop.legs) measured.insert(measured.end(), leg.begin(), leg.end());
  drawn.series = {line("computed", test::computed_points(loop, 1e-4), false),
                  line("measured", measured, true)};
  return drawn;
}

Report run() {
  Report report;
  const auto loops = test::measured_loops();
  add(loops[0], true, "", report);
  add(test::dp780_loop_as_published(), false,
      "informs only: too hard after the turn, for its surfaces close up faster, and a reversal takes less of "
      "the bound's way back",
      report);
  add(loops[1], true, "", report);
  report.charts = {chart(loops[0], "measured-loop-dp780"), chart(loops[1], "measured-loop-aa6022")};
  report.discussion =
      "Tension and compression that was measured. Constants fitted to these very tests, so that the rows say "
      "how much of a test one law can follow. DP780 as published by the laboratory that measured holds the "
      "equations with their constants against a test. A falling modulus changes its misses by less than "
      "0.003.";
  return report;
}

}  // namespace

Problem measured_loops() {
  return {"measured-loops",        "Measured tension and compression",
          "Plasticity at a point", "Yoon, S.-Y., points of tests of a university laboratory, no paper named",
          Evidence::published,     run};
}

}  // namespace halftool::verification
