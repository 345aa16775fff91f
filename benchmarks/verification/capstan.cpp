#include <fmt/format.h>

#include <algorithm>
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
        const test::CapstanDraw draw = test::draw_over(setup);
        Row row = compare(fmt::format("T2/T1, mu {:g}, {:g} degrees", friction, angle),
                          fmt::format("{:g} elements over 90 degrees", elements), draw.ratio, reference);
        row.allowed = 0.02;
        if (elements == 24) {
          ours.points.emplace_back(friction * setup.wrap, row.value);
          exact.points.emplace_back(friction * setup.wrap, reference);
        }
        report.rows.push_back(row);
        const auto worst =
            std::max_element(draw.pressures.begin(), draw.pressures.end(), [](const auto& a, const auto& b) {
              return std::abs(a[1] / a[2] - 1) < std::abs(b[1] / b[2] - 1);
            });
        Row pressure = compare(
            fmt::format("pressure on the cylinder, mu {:g}, {:g} degrees, worst of 8 parts of the wrap",
                        friction, angle),
            fmt::format("{:g} elements over 90 degrees", elements), (*worst)[1], (*worst)[2]);
        pressure.allowed = 0.03;
        report.rows.push_back(pressure);
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
