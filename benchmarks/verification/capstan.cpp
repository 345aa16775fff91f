#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "benchmarks/verification/problems.hpp"
#include "tests/verification/drawn_strip.hpp"

namespace halftool::verification {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

Report run() {
  Report report;
  Chart chart{"capstan", "Strip drawn over a cylinder", "friction times angle", "ratio of the forces", {}};
  Series ours{"24 elements over 90 degrees", {}, false}, exact{"exp(mu theta)", {}, true};
  for (const double friction : {0.1, 0.2, 0.3})
    for (const double angle : {90.0, 160.0})
      for (const double elements : {24.0, 48.0}) {
        test::Capstan setup;
        setup.friction = friction;
        setup.wrap = angle * kDegree;
        setup.elements = elements;
        const double reference = std::exp(friction * setup.wrap);
        Row row = compare(fmt::format("T2/T1, mu {:g}, {:g} degrees", friction, angle),
                          fmt::format("{:g} elements over 90 degrees", elements), test::capstan_ratio(setup),
                          reference);
        row.allowed = 0.02;
        if (elements == 24) {
          ours.points.emplace_back(friction * setup.wrap, row.value);
          exact.points.emplace_back(friction * setup.wrap, reference);
        }
        report.rows.push_back(row);
      }
  const auto by_x = [](const Eigen::Vector2d& a, const Eigen::Vector2d& b) { return a.x() < b.x(); };
  std::sort(ours.points.begin(), ours.points.end(), by_x);
  chart.series = {ours, exact};
  report.charts.push_back(chart);
  return report;
}

}  // namespace

Problem capstan() {
  return {"capstan",
          "Strip drawn over a cylinder",
          "Friction and tension",
          "capstan relation T2/T1 = exp(mu theta) (Euler 1769, from memory)",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
