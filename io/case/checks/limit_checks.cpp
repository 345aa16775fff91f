#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/case/checks/case_checks.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

const std::string table = "sheet.forming_limit";

/// Speaks of one point: at its line of the file, or of the case.
void refuse_point(const CheckedCase& c, std::size_t i, std::string found, std::string allowed,
                  std::string mend) {
  const LimitPoints& limit = *c.values.limit_points;
  if (!limit.from_file)
    return c.error(table + ".points", fmt::format("{}, point {}", found, i + 1), std::move(allowed),
                   std::move(mend));
  c.findings.errors.push_back(
      {limit.file, limit.lines.at(i), "", std::move(found), std::move(allowed), std::move(mend)});
}

bool check_points(const CheckedCase& c) {
  const auto& points = c.values.limit_points->points;
  const auto& errors = c.findings.errors;
  if (c.values.limit_points->from_file && std::any_of(errors.begin(), errors.end(), [&](const auto& error) {
        return error.file == c.values.limit_points->file;
      }))
    return false;  // reported with the file's own lines
  if (points.size() < 2) {
    c.error(table + (c.values.limit_points->from_file ? ".file" : ".points"),
            points.empty() ? "no points" : "one point", "at least two points", "add the points of the test");
    return false;
  }
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto& [minor, major] = points[i];
    if (!(minor > -0.9 && std::abs(minor) <= 3 && std::abs(major) <= 3)) {
      refuse_point(c, i, fmt::format("strains {:.6g} and {:.6g}", minor, major), "strains between -0.9 and 3",
                   "give the unit: [%] in the heading for percent");
      return false;
    }
    if (major <= 0 || major < minor) {
      refuse_point(c, i, fmt::format("major strain {:.6g} beside minor strain {:.6g}", major, minor),
                   "a major strain above 0 and not below the minor one",
                   "write [minor, major]; are the two exchanged?");
      return false;
    }
    if (i > 0 && minor <= points[i - 1][0]) {
      refuse_point(c, i, fmt::format("minor strain {:.6g} after {:.6g}", minor, points[i - 1][0]),
                   "minor strains that rise",
                   minor == points[i - 1][0]
                       ? "give each minor strain once: the mean of its tests, or the lowest"
                       : "put the points in order of their minor strain");
      return false;
    }
  }
  return true;
}

void check_thickness(const CheckedCase& c) {
  const auto& tested = c.values.limit_points->thickness;
  constexpr double noticeable = 0.1;  // of the thickness; our judgement
  if (!tested || !c.sound({"sheet.thickness"})) return;
  const double here = c.values.blank.thickness;
  if (std::abs(*tested - here) <= noticeable * here) return;
  const std::string name = print_quantity(here, Dimension::length, "mm");
  c.warning(
      table + (c.values.limit_points->from_file ? ".file" : ".points"),
      fmt::format("a limit tested on a sheet of {}", print_quantity(*tested, Dimension::length, "mm")),
      fmt::format("one of this sheet, {}", name),
      *tested > here
          ? fmt::format("a thinner sheet bears less: the limit is too high for {}; measure it, or judge "
                        "with a margin",
                        name)
          : fmt::format("a thicker sheet bears more: the limit is too low for {}, which is on the safe "
                        "side; measure it",
                        name));
}

/// The estimate was made for low-carbon steel.
void check_estimate(const CheckedCase& c) {
  if (!c.sound({"sheet.material", "limits"}) || !c.given("limits.forming_limit") ||
      c.values.limits.forming_limit != FormingLimit::estimate)
    return;
  const auto& stock = c.values.stock;
  if (solver::is_low_carbon_steel(c.values.material) && !(stock && !stock->limit_estimate)) return;
  c.warning("limits.forming_limit", "estimate", "a formula for low-carbon steel",
            "it may lie at twice of what this metal bears: leave the key out for the lower of the estimate "
            "and a computed curve, or give measured points");
}

/// Estimate and computed curve follow from where the tensile test necks, which a short table does not reach.
void check_table_reaches_neck(const CheckedCase& c) {
  const auto* curve = std::get_if<solver::TableHardening>(&c.values.material.hardening);
  const FormingLimit judge = c.values.limits.forming_limit;
  if (curve == nullptr || !c.sound({"sheet.material", "limits"}) || judge == FormingLimit::none ||
      judge == FormingLimit::measured)
    return;
  const double last = curve->points.back()[0];
  const double necks = solver::uniform_strain(solver::tension_curve(c.values.material));
  if (necks <= last) return;
  c.warning(
      "sheet.material.flow_curve", fmt::format("points up to a plastic strain of {:.4g}", last),
      fmt::format("points up to the greatest load of the tensile test; drawn on beyond the table, it lies "
                  "at {:.3g}",
                  necks),
      "the forming limit rests on the extrapolation: add points of the test, or give measured points of "
      "the limit");
}

/// The curve should show where plane strain lies.
void check_cover(const CheckedCase& c) {
  const auto& points = c.values.limit_points->points;
  if (points.front()[0] <= 0 && points.back()[0] >= 0) return;
  c.warning(table + (c.values.limit_points->from_file ? ".file" : ".points"),
            fmt::format("minor strains from {:.6g} to {:.6g}", points.front()[0], points.back()[0]),
            "points on both sides of plane strain",
            "paths beside the points are not judged: add those of plane strain");
}

/// Ductile sheet bears least in plane strain, and some percent there.
void check_shape(const CheckedCase& c) {
  const auto& points = c.values.limit_points->points;
  const std::string key = table + (c.values.limit_points->from_file ? ".file" : ".points");
  constexpr double least_likely = 0.02;  // our judgement
  double greatest = 0;
  std::size_t lowest = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    greatest = std::max(greatest, points[i][1]);
    if (points[i][1] < points[lowest][1]) lowest = i;
  }
  if (greatest < least_likely)
    return c.warning(key, fmt::format("major strains up to {:.3g}", greatest),
                     "a limit of some percent at least",
                     "check the unit: strains are ratios unless % stands beside them");
  constexpr double far = 0.1;  // of minor strain: our judgement
  if (points.size() < 3 || std::abs(points[lowest][0]) < far) return;
  const bool at_end = lowest == 0 || lowest + 1 == points.size();
  if (at_end && points.front()[0] < 0 && points.back()[0] > 0)
    c.warning(
        key,
        fmt::format("the lowest point at a minor strain of {:.3g}, an end of the curve", points[lowest][0]),
        "a curve that is lowest near plane strain (minor strain 0)",
        "check that minor and major strains and their signs are not exchanged");
}

/// One thing is limited by one number.
void check_pairs(const CheckedCase& c) {
  for (const auto& [one, other] : {std::pair("limits.edge_stretch", "limits.hole_expansion"),
                                   std::pair("limits.bend_ratio", "limits.bend_strain")})
    if (c.given(one) && c.given(other))
      c.error(other, fmt::format("the key beside {}", one), "one of the two",
              "keep the one that was measured");
}

/// A limit of edges that the case does not have is a slip.
void check_edges_exist(const CheckedCase& c) {
  const Case& job = c.values;
  const bool drawn = !std::holds_alternative<std::monostate>(job.outline_file);
  if (!drawn && job.blank.holes.empty())
    for (const char* key : {"limits.hole_stretch", "blank.hole_edge"})
      if (c.given(key)) c.warning(key, "a blank without holes", "holes in the blank", "leave the key out");
  const bool between = std::any_of(job.trims.begin(), job.trims.end(), [&](const TrimLine& line) {
    return !line.after_step.empty() && line.after_step != job.steps.back().name;
  });
  if (c.given("limits.trim_stretch") && !between)
    c.warning("limits.trim_stretch", "no trim between steps", "a trim line with after_step",
              "leave the key out: an edge that is cut after the last step stretches no more");
}

/// What judges the part against the computed limit that stands in the case.
void check_computed(const CheckedCase& c) {
  const FormingLimit judge = c.values.limits.forming_limit;
  if (!c.sound({"limits.forming_limit", table})) return;
  if ((judge == FormingLimit::computed || judge == FormingLimit::lower) && c.values.limit_points)
    c.error("limits.forming_limit", judge == FormingLimit::lower ? "lower" : "computed",
            "computed only without measured points",
            "leave the key out to judge by the measured points, or take the points out");
  if (c.values.computed_limit && (judge == FormingLimit::none || judge == FormingLimit::estimate))
    c.warning("limits.forming_limit", judge == FormingLimit::none ? "none" : "estimate",
              "computed, where [sheet.forming_limit] says so",
              "leave the key out to judge by the computed curve");
}

}  // namespace

void check_limit(const CheckedCase& c) {
  check_estimate(c);
  check_table_reaches_neck(c);
  check_pairs(c);
  check_edges_exist(c);
  check_computed(c);
  if (!c.values.limit_points) {
    if (c.sound({"limits.forming_limit", table}) && c.values.limits.forming_limit == FormingLimit::measured)
      c.error("limits.forming_limit", "measured", "measured only beside [sheet.forming_limit]",
              "add the points of the test, or write forming_limit = \"computed\", \"estimate\" or \"none\"");
    return;
  }
  if (!c.sound({table}) || !check_points(c)) return;
  check_thickness(c);
  check_cover(c);
  check_shape(c);
  const FormingLimit judge = c.values.limits.forming_limit;
  if (c.sound({"limits.forming_limit"}) && (judge == FormingLimit::none || judge == FormingLimit::estimate))
    c.warning("limits.forming_limit", judge == FormingLimit::none ? "none" : "estimate",
              "measured, where [sheet.forming_limit] stands",
              "leave the key out to judge by the measured points");
}

}  // namespace halftool::io
