#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <numbers>
#include <optional>

#include "benchmarks/verification/flange_sheets.hpp"
#include "benchmarks/verification/problems.hpp"
#include "solver/assessment/edge_waves.hpp"
#include "tests/verification/ring_flange.hpp"

namespace halftool::verification {
namespace {

const char* const kMesh = "irregular, 4 over the bend";
const std::vector<double> kOverhangs = {8, 10, 13};  // [mm]
constexpr double kRadius = 60;                       // [mm]
constexpr double kCounts = solver::kLeastWave * 1;   // of a sheet 1 mm thick [mm]

const char* const kDiscussion =
    "Sectors of 60 degrees between free ends round a block, shapes invented; sheets and constants are those "
    "of "
    "the stock, 1 mm thick unless said; friction 0.1, to 60 MPa. Yilgin and others found by trial that a "
    "shrink "
    "flange wrinkles the more, the longer it is, the thinner the sheet and the smaller the radius in plan; "
    "of "
    "their paper the abstract was read, not the charts, so that the trend alone is compared. Of strength a "
    "report on wrinkling (Selman 1999, its beginning read) says only that the use of thinner and stronger "
    "sheet "
    "makes wrinkles more of a trouble. A wave counts where it is left 0.05 mm high, 5 % of the thickness; "
    "what "
    "is left of a wave hangs on where it snapped and scatters with mesh and steps. Two rows miss, both of "
    "the "
    "highest wave on the way: on the larger radius a sector of 60 degrees is longer (105 mm of wall for 63) "
    "and "
    "waves higher; and sheets of unlike strength wave to the same height within 1 %, at pressures that go as "
    "their strength. What is left at full pressure follows the trend.";

struct Waves {
  double overhang = 0;
  test::RingEdge edge;
};

test::RingEdge press(const FlangeSheet& sheet, double overhang, double thickness = 1,
                     double radius = kRadius) {
  test::RingFlange flange;
  flange.material = sheet.material;
  flange.inward = false;
  flange.axis_radius = radius;
  flange.edge_radius = 3;
  flange.thickness = thickness;
  flange.overhang = overhang;
  flange.web = 15;
  flange.half_sector = 30 * std::numbers::pi / 180;
  flange.friction = 0.1;
  flange.elements_per_bend = 4;
  return test::press_ring(flange);
}

std::string words_of(const test::RingEdge& edge) {
  std::string words = fmt::format("{:.2f} mm at {:.1f} MPa, {:.3f} mm left", edge.highest_wave,
                                  edge.wave_pressure, edge.wave_left);
  if (!edge.broken_off.empty()) words += "; " + edge.broken_off;
  return words;
}

/// Both heights of waves as ratios of two flanges, of which a trend has the first wave more.
void add_pair(const std::string& words, const test::RingEdge& more, const test::RingEdge& less,
              Report& report) {
  Row on_the_way = rising("highest wave on the way, " + words, kMesh, more.highest_wave / less.highest_wave);
  on_the_way.remark = words_of(more) + "; " + words_of(less);
  report.rows.push_back(on_the_way);
  Row left;
  left.quantity = "wave left at 60 MPa [mm], no lower: " + words;
  left.mesh = kMesh;
  left.value = more.wave_left;
  left.reference = less.wave_left;
  left.error = std::min(0.0, (more.wave_left - less.wave_left) / kCounts);  // a flat edge has no ratio
  left.allowed = 0;
  report.rows.push_back(left);
}

/// Overhang at which what is left of the wave begins to count; none: it lies beyond the flanges pressed.
std::optional<double> length_that_waves(const std::vector<Waves>& flanges, double counts) {
  for (std::size_t i = 1; i < flanges.size(); ++i) {
    const double before = flanges[i - 1].edge.wave_left, after = flanges[i].edge.wave_left;
    if (before < counts && after >= counts)
      return flanges[i - 1].overhang +
             (counts - before) / (after - before) * (flanges[i].overhang - flanges[i - 1].overhang);
  }
  return std::nullopt;
}

/// Which lengths leave a wave; informs only, for no published figure was read.
void add_length(const FlangeSheet& sheet, const std::vector<Waves>& flanges, Report& report) {
  Row row;
  row.quantity = "overhang at which the wave left counts [mm], " + sheet.key;
  row.mesh = kMesh;
  const std::optional<double> length = length_that_waves(flanges, kCounts);
  row.value = length.value_or(std::numeric_limits<double>::quiet_NaN());
  row.reference = row.value;
  row.remark = length ? "no published figure was read: informs only"
                      : (flanges.front().edge.wave_left < kCounts ? "none of those pressed leaves one"
                                                                  : "all of those pressed leave one");
  for (const Waves& flange : flanges)
    row.remark += fmt::format("; {:g} mm: {:.3f} mm", flange.overhang, flange.edge.wave_left);
  report.rows.push_back(row);
}

std::vector<Waves> press_lengths(const FlangeSheet& sheet, Chart& chart) {
  std::vector<Waves> flanges;
  Series left{sheet.key, {}, false};
  for (const double overhang : kOverhangs) {
    flanges.push_back({overhang, press(sheet, overhang)});
    left.points.emplace_back(overhang, flanges.back().edge.wave_left);
  }
  chart.series.push_back(left);
  return flanges;
}

Report run() {
  Report report;
  Chart chart{"flange_waves", "Wave left in a shrink flange at 60 MPa", "overhang [mm]", "height [mm]", {}};
  std::vector<std::vector<Waves>> all;
  const std::vector<FlangeSheet> sheets = flange_sheets();
  for (const FlangeSheet& sheet : sheets) {
    all.push_back(press_lengths(sheet, chart));
    add_pair("overhang 13 mm over 8 mm, " + sheet.key, all.back()[2].edge, all.back()[0].edge, report);
    add_length(sheet, all.back(), report);
  }
  const FlangeSheet& first = sheets.front();
  const test::RingEdge& middle = all.front()[1].edge;
  add_pair("1 mm thick over 1.4 mm, overhang 10 mm, " + first.key, middle, press(first, 10, 1.4), report);
  add_pair("radius in plan 60 mm over 100 mm, overhang 10 mm, " + first.key, middle, press(first, 10, 1, 100),
           report);
  add_pair("AA7075-O over AA6061-O, which is softer, overhang 13 mm", all[2][2].edge, all[0][2].edge, report);
  report.charts.push_back(chart);
  report.discussion = kDiscussion;
  return report;
}

}  // namespace

Problem flange_trend() {
  return {"flange-trend",
          "Lengths at which shrink flanges of four sheets wrinkle",
          "Flange",
          "trend: Yilgin, Yilmaz, Ozturk and Hatipoglu, Res. Dev. Mater. Sci. 16 (2021) 000877 (abstract)",
          Evidence::published,
          run};
}

}  // namespace halftool::verification
