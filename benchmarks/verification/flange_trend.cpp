#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "benchmarks/verification/problems.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "tests/verification/flange_strip.hpp"
#include "tests/verification/ring_flange.hpp"

namespace halftool::verification {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kStretch = 0.10;  // what the edge is allowed to grow by: invented

const char* const kDiscussion =
    "Invented flanges on a wall of some 60 mm radius, 60 degrees between free ends, friction 0.1, to 60 MPa. "
    "Yilgin and others found by trial that a shrink flange wrinkles the more, the longer it is, the thinner "
    "the "
    "sheet and the smaller the radius in plan; their charts were not read, so that only the trend is "
    "compared. The "
    "limit of the stretch flange is invented; where it is passed lies beyond the hand formula's length, for "
    "the "
    "formula is that of a closed ring.";

test::RingFlange flange_of(bool inward, double overhang, double thickness) {
  test::RingFlange flange;
  flange.material = test::sheet_6061_o();
  flange.inward = inward;
  flange.axis_radius = 60;
  flange.edge_radius = 3;
  flange.thickness = thickness;
  flange.overhang = overhang;
  flange.web = inward ? 20 : 15;
  flange.half_sector = 30 * kDegree;
  flange.friction = 0.1;
  flange.elements_per_bend = 4;
  return flange;
}

const char* const kMesh = "irregular, 4 over the bend";

/// Row of a ratio that the trend asks to be above one; it misses where it is not.
Row rising(const std::string& quantity, double ratio) {
  Row row;
  row.quantity = quantity;
  row.mesh = kMesh;
  row.value = ratio;
  row.reference = 1;
  row.error = std::min(0.0, ratio - 1);
  row.allowed = 0;
  return row;
}

void add_waves(Report& report) {
  Chart chart{"flange_waves", "Waves of a shrink flange", "overhang [mm]", "height [mm]", {}};
  Series highest{"highest on the way", {}, false}, left{"left at 60 MPa", {}, false};
  double before = 0, at_ten = 0;
  for (const double overhang : {8.0, 10.0, 13.0}) {
    const test::RingEdge edge = test::press_ring(flange_of(false, overhang, 1));
    highest.points.emplace_back(overhang, edge.highest_wave);
    left.points.emplace_back(overhang, edge.wave_left);
    if (before > 0) {
      Row row = rising(
          fmt::format("height of the wave over that of the shorter flange, overhang {:g} mm", overhang),
          edge.highest_wave / before);
      row.remark = fmt::format("{:.2f} mm at {:.1f} MPa, left {:.2f} mm", edge.highest_wave,
                               edge.wave_pressure, edge.wave_left);
      if (!edge.broken_off.empty()) row.remark += "; " + edge.broken_off;
      report.rows.push_back(row);
    }
    before = edge.highest_wave;
    if (overhang == 10) at_ten = edge.highest_wave;
  }
  const test::RingEdge thick = test::press_ring(flange_of(false, 10, 1.4));
  Row row = rising("height of the wave, 1 mm thick, over that of 1.4 mm, overhang 10 mm",
                   at_ten / thick.highest_wave);
  row.remark = fmt::format("{:.2f} and {:.2f} mm", at_ten, thick.highest_wave);
  report.rows.push_back(row);
  Row ironed =
      rising("wave left at 60 MPa, overhang 13 mm, beyond that of 8 mm, over the least that counts (0.05 mm)",
             (left.points.back().y() - left.points.front().y()) / 0.05);
  report.rows.push_back(ironed);
  chart.series = {highest, left};
  report.charts.push_back(chart);
}

/// Where a line through two points rises to a value.
double where(const Eigen::Vector2d& a, const Eigen::Vector2d& b, double value) {
  return a.x() + (value - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
}

void add_stretch(Report& report) {
  const double limit = solver::edge_limit_strain(kStretch);
  Series computed{"computed", {}, false}, by_hand{"closed ring, by hand", {}, true};
  double length = 0, length_by_hand = 0;
  for (const double overhang : {6.0, 8.0, 10.0, 14.0}) {
    const test::RingFlange flange = flange_of(true, overhang, 1.2);
    const test::RingEdge edge = test::press_ring(flange);
    computed.points.emplace_back(overhang, edge.strain);
    by_hand.points.emplace_back(overhang, test::edge_strain_by_hand(flange));
    const std::size_t n = computed.points.size();
    Row row = compare(fmt::format("strain along the edge against the ring's, overhang {:g} mm", overhang),
                      kMesh, computed.points.back().y(), by_hand.points.back().y());
    row.remark = "middle half of the edge; free ends take the rest";
    report.rows.push_back(row);
    if (n < 2) continue;
    report.rows.push_back(
        rising(fmt::format("strain over that of the shorter flange, overhang {:g} mm", overhang),
               edge.strain / computed.points[n - 2].y()));
    if (length == 0 && edge.strain > limit)
      length = where(computed.points[n - 2], computed.points[n - 1], limit);
    if (length_by_hand == 0 && by_hand.points.back().y() > limit)
      length_by_hand = where(by_hand.points[n - 2], by_hand.points[n - 1], limit);
  }
  Row row =
      compare(fmt::format("overhang at which the edge has grown by {:g} % [mm], against the hand formula's",
                          100 * kStretch),
              kMesh, length, length_by_hand);
  row.remark = "the hand formula errs to the safe side";
  report.rows.push_back(row);
  report.charts.push_back(
      {"flange_stretch", "Edge of a stretch flange", "overhang [mm]", "strain", {computed, by_hand}});
}

Report run() {
  Report report;
  add_waves(report);
  add_stretch(report);
  report.discussion = kDiscussion;
  return report;
}

}  // namespace

Problem flange_trend() {
  return {"flange-trend",
          "Waves and edge strain of curved flanges against their length",
          "Flange",
          "trend: Yilgin, Yilmaz, Ozturk and Hatipoglu, Res. Dev. Mater. Sci. 16 (2021) 000877 (abstract); "
          "strain: "
          "ln(R/R0), own arithmetic",
          Evidence::published,
          run};
}

}  // namespace halftool::verification
