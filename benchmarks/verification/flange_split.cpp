#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "benchmarks/verification/flange_sheets.hpp"
#include "benchmarks/verification/problems.hpp"
#include "tests/verification/edge_neck.hpp"
#include "tests/verification/ring_flange.hpp"

namespace halftool::verification {
namespace {

const char* const kMesh = "irregular, 4 over the bend";
const std::vector<double> kOverhangs = {8, 13, 18};  // [mm]

const char* const kDiscussion =
    "Rims of holes, closed rings on a wall of 30 mm radius, shapes invented; sheets and constants are those "
    "of "
    "the stock, 1 mm thick; friction 0.1, to 60 MPa. The strain along the edge is that of its growing "
    "radius, "
    "whatever the sheet; what sheets differ in is what an edge bears. The limit is the local neck in "
    "uniaxial "
    "tension, (1 + r) n of a power law, in the direction of the least r-value; the diffuse neck at n stands "
    "in "
    "the remarks, and has another order: 2024-O before 6061-O. Both are of a smooth edge: a punched or "
    "scratched one splits earlier, and no hole expansion test of these sheets was found. Elongations at "
    "break "
    "put 2024-O before 7075-O; with the r-values that the stock has for one of them only, it comes 1 % "
    "behind. "
    "Isotropic, with 2 n, it would bear more.";

test::RingFlange hole(const FlangeSheet& sheet, double overhang) {
  test::RingFlange flange;
  flange.material = sheet.material;
  flange.thickness = 1;
  flange.overhang = overhang;
  flange.friction = 0.1;
  flange.elements_per_bend = 4;
  return flange;
}

test::RingEdge press(const test::RingFlange& flange) {
  test::RingEdge edge = test::press_ring(flange);
  if (!edge.broken_off.empty()) throw std::runtime_error(edge.broken_off);
  return edge;
}

/// Overhang at which the edge has a strain. exp(-strain) = R0/R falls with the overhang as a straight line.
double length_at(const std::vector<Eigen::Vector2d>& edge, double strain) {
  for (std::size_t i = 1; i < edge.size(); ++i) {
    if (edge[i].y() < strain && i + 1 < edge.size()) continue;
    const double a = std::exp(-edge[i - 1].y()), b = std::exp(-edge[i].y());
    if (std::exp(-strain) < b) break;
    return edge[i - 1].x() + (std::exp(-strain) - a) / (b - a) * (edge[i].x() - edge[i - 1].x());
  }
  throw std::runtime_error("no flange was long enough for its edge to neck");
}

/// The same of the closed form on the wall.
double length_by_hand(const FlangeSheet& sheet, double strain) {
  double shorter = 0, longer = 30;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (shorter + longer);
    (test::edge_strain_on_wall(hole(sheet, middle)) < strain ? shorter : longer) = middle;
  }
  return shorter;
}

/// Adds the rows of a sheet's edge.
/// @return (overhang [mm], strain along the edge)
std::vector<Eigen::Vector2d> add_edge(const FlangeSheet& sheet, Report& report) {
  std::vector<Eigen::Vector2d> points;
  Row worst;
  double least_growth = std::numeric_limits<double>::infinity();
  for (const double overhang : kOverhangs) {
    const test::RingFlange flange = hole(sheet, overhang);
    const test::RingEdge edge = press(flange);
    Row row = compare("strain along the edge against ln(R/R0) on the wall, worst of " +
                          std::to_string(kOverhangs.size()) + " lengths, " + sheet.key,
                      kMesh, edge.strain, test::edge_strain_on_wall(flange));
    row.allowed = 0.02;
    row.remark = fmt::format("overhang {:g} mm", overhang);
    if (!(std::abs(row.error) <= std::abs(worst.error)) || points.empty()) worst = row;
    if (!points.empty()) least_growth = std::min(least_growth, edge.strain / points.back().y());
    points.emplace_back(overhang, edge.strain);
  }
  report.rows.push_back(worst);
  report.rows.push_back(
      rising("strain along the edge over that of the next shorter flange, least, " + sheet.key, kMesh,
             least_growth));
  return points;
}

double add_length(const FlangeSheet& sheet, const std::vector<Eigen::Vector2d>& points, Report& report) {
  const test::EdgeNeck neck = test::edge_neck(sheet.material);
  const double length = length_at(points, neck.local);
  Row row = compare("overhang at which the edge necks locally [mm], " + sheet.key, kMesh, length,
                    length_by_hand(sheet, neck.local));
  row.allowed = 0.02;
  row.remark = fmt::format(
      "at strain {:.3f} (r {:.2f}), the hole grown by {:.0f} %; diffusely at {:.3f}, {:.1f} mm", neck.local,
      neck.r, 100 * std::expm1(neck.local), neck.diffuse, length_at(points, neck.diffuse));
  report.rows.push_back(row);
  return length;
}

/// Hardening and r-value raise the local neck; elongation at break of the handbook (Callister, appendix B.4,
/// from memory): 6061-O 30 %, 2024-O 20 %, 7075-O 17 %.
void add_order(const std::vector<double>& lengths, Report& report) {
  report.rows.push_back(
      rising("overhang borne, AA6061-O over AA7075-O, which hardens less", kMesh, lengths[0] / lengths[2]));
  report.rows.push_back(
      rising("overhang borne, steel-N93 over AA6061-O, which hardens less and has no r-values", kMesh,
             lengths[3] / lengths[0]));
  Row first = rising("overhang borne, AA6061-O over AA2024-O", kMesh, lengths[0] / lengths[1]);
  first.remark = "elongation at break 30 and 20 % (Callister, appendix B.4, from memory)";
  report.rows.push_back(first);
  Row second = rising("overhang borne, AA2024-O over AA7075-O", kMesh, lengths[1] / lengths[2]);
  second.remark = "elongation at break 20 and 17 % (the same)";
  if (!second.holds())
    second.remark +=
        "; the stock has no r-values for 7075-O, which counts as isotropic; with r 1 both, 2024-O bears more";
  report.rows.push_back(second);
}

void add_radius(const FlangeSheet& sheet, double strain, Report& report) {
  test::RingFlange wide = hole(sheet, kOverhangs[1]);
  wide.axis_radius *= 1.5;
  Row row =
      rising(fmt::format("strain along the edge over that on 1.5 times the radius, overhang {:g} mm, {}",
                         kOverhangs[1], sheet.key),
             kMesh, strain / press(wide).strain);
  report.rows.push_back(row);
}

Report run() {
  Report report;
  Chart chart{"flange_splits", "Edge of a stretch flange", "overhang [mm]", "strain along the edge", {}};
  Series necks{"local neck", {}, true};
  std::vector<double> lengths;
  const std::vector<FlangeSheet> sheets = flange_sheets();
  for (const FlangeSheet& sheet : sheets) {
    const std::vector<Eigen::Vector2d> points = add_edge(sheet, report);
    lengths.push_back(add_length(sheet, points, report));
    chart.series.push_back({sheet.key, points, false});
    necks.points.emplace_back(lengths.back(), test::edge_neck(sheet.material).local);
  }
  add_order(lengths, report);
  add_radius(sheets.front(), chart.series.front().points[1].y(), report);
  chart.series.push_back(necks);
  report.charts.push_back(chart);
  report.discussion = kDiscussion;
  return report;
}

}  // namespace

Problem flange_split() {
  return {
      "flange-split",
      "Lengths at which the edges of stretch flanges of four sheets neck",
      "Flange",
      "strain: ln(R/R0), own arithmetic; necks: Considere 1885 and Hill, J. Mech. Phys. Solids 1 (1952) 19",
      Evidence::from_memory,
      run};
}

}  // namespace halftool::verification
