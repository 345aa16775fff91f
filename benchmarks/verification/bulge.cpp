#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "benchmarks/verification/problems.hpp"
#include "tests/verification/bulge_membrane.hpp"
#include "tests/verification/bulge_path.hpp"

namespace halftool::verification {
namespace {

const solver::SwiftHardening kLaw{530, 0.001, 0.2};

test::FreeBulge setup_of(double short_axis, int rings) {
  test::FreeBulge setup;
  setup.material = {"", "", "", 207000, 0.3, kLaw};
  setup.thickness = 1;
  setup.semi_axes = {50, short_axis};
  setup.rings = rings;
  return setup;
}

std::string mesh_words(int rings) {
  return fmt::format("{} rings, irregular, seed 1", rings);
}

/// Worst of a balance over the points between two thickness strains of the pole, up to the greatest pressure.
template <class BalanceOf>
Row worst_balance(const std::string& quantity, const test::BulgePath& path, int rings, double from, double to,
                  BalanceOf balance_of) {
  const auto row_of = [&](double borne) { return compare(quantity, mesh_words(rings), borne, 1); };
  Row worst = row_of(std::numeric_limits<double>::quiet_NaN());
  for (int i = 0; i <= path.greatest && !path.points.empty(); ++i) {
    const test::BulgePoint& point = path.points[i];
    const double strain = -point.pole.thickness_strain;
    if (strain < from || strain > to) continue;
    Row row = row_of(balance_of(point));
    row.remark = fmt::format("at a pole strain of {:.2f}", strain);
    if (std::isnan(worst.value) || std::abs(row.error) > std::abs(worst.error)) worst = row;
  }
  return worst;
}

Row pole_balance(const test::BulgePath& path, int rings) {
  return worst_balance(
      "N1/rho1 + N2/rho2 over the fluid's p, worst point", path, rings, 0.02, 10,
      [](const test::BulgePoint& point) { return test::borne_share(point.pole, point.pressure); });
}

Row cap_balance(const test::BulgePath& path, int rings, double from, double to) {
  Row row = worst_balance(
      fmt::format("N : k of the cap over the fluid's p, worst point of pole strain {:.2f} to {:.2f}", from,
                  to),
      path, rings, from, to, [](const test::BulgePoint& point) { return point.cap_balance; });
  row.allowed = 0.01;
  return row;
}

double at_strain(const test::BulgePath& path, double strain) {
  for (std::size_t i = 1; i < path.points.size(); ++i) {
    const double a = -path.points[i - 1].pole.thickness_strain, b = -path.points[i].pole.thickness_strain;
    if (b >= strain)
      return path.points[i - 1].pressure +
             (strain - a) / (b - a) * (path.points[i].pressure - path.points[i - 1].pressure);
  }
  return path.points.back().pressure;
}

double hill_pressure(double strain, const test::FreeBulge& setup) {
  return kLaw.strength * std::pow(kLaw.pre_strain + strain, kLaw.exponent) * setup.thickness /
         setup.semi_axes.x() * test::hill_pressure(test::hill_height(strain));
}

void add_pole_curve(const test::FreeBulge& setup, const test::BulgePath& path, Report& report) {
  for (const double strain : {0.1, 0.2, 0.3, 0.4, 0.5}) {
    if (-path.points.back().pole.thickness_strain < strain) break;
    Row hill = compare(fmt::format("pressure at pole strain {:g} [MPa], Hill", strain),
                       mesh_words(setup.rings), at_strain(path, strain), hill_pressure(strain, setup));
    hill.allowed = 0.1;
    report.rows.push_back(hill);
    report.rows.push_back(compare(
        fmt::format("pressure at pole strain {:g} [MPa], membrane", strain), mesh_words(setup.rings),
        at_strain(path, strain),
        test::bulge_membrane(kLaw, strain).pressure * kLaw.strength * setup.thickness / setup.semi_axes.x()));
  }
  if (!path.broken_off.empty()) report.rows.back().remark = path.broken_off;
  if (!(path.summit.x() > 0)) return;
  Row summit = compare("pole strain at the greatest pressure, Hill", mesh_words(setup.rings), path.summit.x(),
                       test::hill_summit(kLaw));
  summit.allowed = 0.1;
  summit.remark = "see the discussion: the curve is flat there";
  report.rows.push_back(summit);
  report.rows.push_back(compare("greatest pressure [MPa], Hill", mesh_words(setup.rings), path.summit.y(),
                                hill_pressure(test::hill_summit(kLaw), setup)));
  report.rows.push_back(compare("pressure at Hill's pole strain over the greatest", mesh_words(setup.rings),
                                at_strain(path, test::hill_summit(kLaw)) / path.summit.y(), 1));
}

/// Thickness strain over that of the pole, mean over a ring of the flat sheet.
double ring_mean(const test::BulgePoint& point, double place) {
  double sum = 0;
  int count = 0;
  for (const Eigen::Vector2d& sample : point.profile)
    if (std::abs(sample.x() - place) < 0.03) {
      sum += sample.y();
      ++count;
    }
  return sum / count / -point.pole.thickness_strain;
}

void add_profile(const test::FreeBulge& setup, const test::BulgePath& path, Report& report) {
  const test::BulgePoint& top = path.points[path.greatest];
  const double height = test::hill_height(-top.pole.thickness_strain);
  const double pole = test::hill_thickness_strain(height, 0);
  for (const double place : {0.25, 0.5, 0.75}) {
    Row row = compare(fmt::format("thickness strain at r0/a {:g} over the pole's, greatest pressure", place),
                      mesh_words(setup.rings), ring_mean(top, place),
                      test::hill_thickness_strain(height, place) / pole);
    if (place < 0.6) row.allowed = 0.1;
    if (row.allowed && !row.holds()) row.remark = "Hill prescribes the motion, see the discussion";
    report.rows.push_back(row);
  }
}

void add_charts(const test::FreeBulge& setup, const test::BulgePath& path, Report& report) {
  Chart curve{
      "bulge_pressure", "Clamped circular bulge", "thickness strain of the pole", "pressure [MPa]", {}};
  Series ours{mesh_words(setup.rings), {}, false}, hill{"Hill 1950", {}, true};
  for (const test::BulgePoint& p : path.points)
    ours.points.emplace_back(-p.pole.thickness_strain, p.pressure);
  for (double e = 0.05; e < 0.8; e += 0.05) hill.points.emplace_back(e, hill_pressure(e, setup));
  curve.series = {ours, hill};
  report.charts.push_back(curve);
}

Report run_circular() {
  Report report;
  for (const int rings : {16, 24, 32}) {
    const test::FreeBulge setup = setup_of(50, rings);
    const test::BulgePath path = test::bulge_freely(setup);
    report.rows.push_back(pole_balance(path, rings));
    report.rows.back().allowed = 0.01;
    report.rows.push_back(cap_balance(path, rings, 0.02, 0.6));
    add_pole_curve(setup, path, report);
    add_profile(setup, path, report);
    if (rings == 32) add_charts(setup, path, report);
  }
  report.discussion =
      "Hill's solution prescribes the motion (spherical caps, no thinning at the rim): beside it the pole of "
      "the run "
      "thins more, and the ring half-way less. The membrane of the "
      "second "
      "kind of row leaves the motion free but takes the total-strain law; it is lost at a pole strain of "
      "0.53, "
      "where that law stops being elliptic.";
  return report;
}

/// Pole strain at which the larger strain of the pole passes the uniform strain of the sheet, n - e0.
double end_of_uniform_strain(const test::BulgePath& path) {
  for (const test::BulgePoint& point : path.points)
    if (point.pole.strain.maxCoeff() > kLaw.exponent - kLaw.pre_strain) return -point.pole.thickness_strain;
  return 0;
}

/// Levy-Mises at the last point: ratio of the strain increments from the stress ratio half-way.
Row flow_rule(const test::BulgePath& path, int rings) {
  const test::Pole& now = path.points.back().pole;
  const test::Pole& before = path.points[path.points.size() - 2].pole;
  const Eigen::Vector2d step = now.strain - before.strain;
  const Eigen::Vector2d middle = now.stress + before.stress;
  const double stress = middle.x() / middle.y();
  Row row = compare("ratio of the pole's strain increments from its stress ratio (Levy-Mises)",
                    mesh_words(rings), step.x() / step.y(), (2 * stress - 1) / (2 - stress));
  row.allowed = 0.03;
  row.remark = fmt::format("elastic part included; the ratio of the strains themselves is {:.3f}",
                           now.strain.x() / now.strain.y());
  return row;
}

Report run_elliptical() {
  Report report;
  for (const int rings : {24, 32}) {
    test::FreeBulge setup = setup_of(30, rings);
    setup.last_thickness_strain = 0.5;
    const test::BulgePath path = test::bulge_freely(setup);
    const double uniform = end_of_uniform_strain(path);
    report.rows.push_back(cap_balance(path, rings, 0.02, uniform));
    report.rows.push_back(cap_balance(path, rings, uniform, 0.5));
    report.rows.push_back(pole_balance(path, rings));
    report.rows.back().remark += ", radii of a quadric through the nodes, which this surface is not";
    report.rows.push_back(flow_rule(path, rings));
  }
  report.discussion =
      "The strain path of the pole bends: its strain ratio falls from 0.50 to 0.43 while the ratio of the "
      "increments "
      "falls to 0.35, as the stress ratio asks. Once the larger strain has passed the uniform strain (the "
      "sheet "
      "thins faster than it hardens, Considere), the tangent of bending is negative: a fibre that is bent "
      "outward loses force. The curvature of single triangles then runs apart (a few hundredths to some "
      "tenths per mm "
      "where the mean is 0.03), and the balance of the cap with it. A metal with n = 0.4 stays even to the "
      "same strain.";
  return report;
}

}  // namespace

Problem bulge() {
  return {"bulge",
          "Clamped circular bulge to its greatest pressure",
          "Fluid bulge, elastoplastic",
          "Hill 1950 (Phil. Mag. 41, 1133), from memory, numbers worked out",
          Evidence::from_memory,
          run_circular};
}

Problem elliptical_bulge() {
  return {"elliptical-bulge",           "Clamped elliptical bulge, axes 5 to 3",
          "Fluid bulge, elastoplastic", "membrane equilibrium at the pole; Levy-Mises flow rule",
          Evidence::closed_form,        run_elliptical};
}

}  // namespace halftool::verification
