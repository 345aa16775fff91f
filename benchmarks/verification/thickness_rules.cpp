#include "tests/verification/thickness_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "benchmarks/verification/problems.hpp"
#include "solver/stepping/press_spec.hpp"
#include "tests/support/reference_sheets.hpp"

namespace halftool::verification {
namespace {

using test::FibreBend;
using test::Rule;

constexpr int kFewest = 7;
constexpr int kMost = 31;
constexpr double kRatios[] = {3, 5, 10, 50};

/// One bend and the error of springback by every rule and every odd number of points.
struct Study {
  std::string sheet;
  FibreBend bend;
  double exact = 0;

  Study(std::string name, FibreBend of) : sheet(std::move(name)), bend(std::move(of)) {
    exact = test::bend_and_release(bend).springback;
  }
  [[nodiscard]] double error(Rule rule, int n) const {
    return test::springback_by(bend, rule, n) / exact - 1;
  }
  [[nodiscard]] double ratio() const { return bend.radius / bend.thickness; }
};

std::vector<Study> three_sheets() {
  std::vector<Study> all;
  for (const double ratio : kRatios)
    all.emplace_back("perfectly plastic", FibreBend{test::perfect(), 1, ratio});
  for (const double ratio : kRatios) all.emplace_back("mild steel", FibreBend{test::mild_steel(), 1, ratio});
  for (const double ratio : kRatios) all.emplace_back("AA6016-T4", FibreBend{test::aa6016(), 1, ratio});
  return all;
}

void add_rows(const std::vector<Study>& studies, Report& report) {
  for (const Study& study : studies)
    for (const int n : {11, 15}) {
      Row row = compare(
          fmt::format("{}, R/t {:.3g}: share of the angle that opens", study.sheet, study.ratio()),
          fmt::format("Gauss, {} points", n), test::springback_by(study.bend, Rule::gauss, n), study.exact);
      row.allowed = 0.01;
      if (!row.holds())
        row.remark = fmt::format(
            "stress has kinks where the elastic core ends, between the points; {} points err by {:+.2f} %",
            kMost, 100 * study.error(Rule::gauss, kMost));
      report.rows.push_back(row);
    }
  for (const auto& printed : test::kGaussMomentPercent) {
    const int n = static_cast<int>(printed[0]);
    Row row =
        compare("perfectly plastic, R/t 10, linear strain: moment over exact",
                fmt::format("Gauss, {} points", n), 1 + test::gauss_moment_error(n), 1 + 0.01 * printed[1]);
    row.allowed = n < 25 ? 0.001 : 0.0003;
    report.rows.push_back(row);
  }
}

/// Worst error over the bends by rule and number of points, and a chart of it.
std::string add_rule_table(const std::vector<Study>& studies, Report& report) {
  Chart chart{"thickness_rules",
              "Worst error of springback, three sheets, R/t 3 to 50",
              "points through the thickness",
              "error [%]",
              {}};
  std::string head = "| points |";
  std::string line = "|--:|";
  for (const Rule rule : test::kRules) {
    chart.series.push_back({test::name_of(rule), {}, false});
    head += fmt::format(" {}, perfectly plastic | {}, hardening |", test::name_of(rule), test::name_of(rule));
    line += "--:|--:|";
  }
  std::string text =
      "Largest error of springback in percent over R/t 3, 5, 10, 50:\n\n" + head + "\n" + line + "\n";
  std::string gauss_words;
  for (int n = kFewest; n <= kMost; n += 2) {
    text += fmt::format("| {} |", n);
    for (std::size_t r = 0; r < std::size(test::kRules); ++r) {
      double perfect = 0;
      double hardening = 0;
      for (const Study& study : studies) {
        double& worst = study.sheet == "perfectly plastic" ? perfect : hardening;
        worst = std::max(worst, 100 * std::abs(study.error(test::kRules[r], n)));
      }
      text += fmt::format(" {:.2f} | {:.2f} |", perfect, hardening);
      chart.series[r].points.emplace_back(n, std::max(perfect, hardening));
      if (test::kRules[r] == Rule::gauss && (n == 11 || n == 15))
        gauss_words += fmt::format(
            "{} Gauss points err by at most {:.2f} % on the perfectly plastic sheet and "
            "{:.2f} % on the hardening ones{}. ",
            n, perfect, hardening, n == solver::SolverSettings{}.layers ? " (the default)" : "");
    }
    text += '\n';
  }
  report.charts.push_back(chart);
  return gauss_words +
         "The midpoint rule does better at few points because its bending stiffness is too small by 1/n^2, "
         "in the "
         "elastic release too, which offsets what it misses of the plastic moment; an elastic sheet it bends "
         "wrongly "
         "by that much (0.8 % at 11 points), Gauss and Lobatto exactly.\n\n" +
         text;
}

std::string gauss_table(const std::vector<Study>& studies) {
  std::string head = "| sheet | R/t |";
  std::string line = "|---|--:|";
  for (int n = kFewest; n <= kMost; n += 2) {
    head += fmt::format(" {} |", n);
    line += "--:|";
  }
  std::string text =
      "Gauss, error of springback in percent by number of points:\n\n" + head + "\n" + line + "\n";
  for (const Study& study : studies) {
    text += fmt::format("| {} | {:.3g} |", study.sheet, study.ratio());
    for (int n = kFewest; n <= kMost; n += 2)
      text += fmt::format(" {:+.2f} |", 100 * study.error(Rule::gauss, n));
    text += '\n';
  }
  return text;
}

/// Bends of the sheet of the straight flange under the pressures that its parts meet, the pressures after the
/// bend. A hydrostatic stress changes nothing, so an edge that carries the fluid too is taken away from both
/// faces.
struct FlangeState {
  const char* name;
  double outer_pressure, inner_pressure;
};
constexpr FlangeState kFlangeStates[] = {
    {"free bend, or pressure on faces and edges alike", 0, 0},
    {"100 MPa on the pad face and the edges, tool face bare", 0, -100},
    {"100 MPa on both faces, edges bare", 100, 100},
};

FibreBend flange_bend(const FlangeState& state, double ratio) {
  FibreBend bend{test::aa6061_o(), 1, ratio};
  bend.outer_pressure = state.outer_pressure;
  bend.inner_pressure = state.inner_pressure;
  bend.pressure_after_bend = true;
  return bend;
}

constexpr double kFlangeRatios[] = {2.375, 2.7, 3, 3.5, 4, 5, 6, 8, 10, 15, 20, 30, 50};

Chart flange_chart() {
  Chart chart{"thickness_rules_flange",
              "6061-O of the straight flange, free bend: Gauss",
              "R/t",
              "error of springback [%]",
              {}};
  for (const int n : {7, 11, 15, 21}) chart.series.push_back({fmt::format("{} points", n), {}, false});
  for (const double ratio : kFlangeRatios) {
    const Study study("", flange_bend(kFlangeStates[0], ratio));
    std::size_t line = 0;
    for (const int n : {7, 11, 15, 21})
      chart.series[line++].points.emplace_back(ratio, 100 * study.error(Rule::gauss, n));
  }
  return chart;
}

/// What the rule alone moves from 11 to 15 points on that sheet.
std::string flange_table() {
  std::string text =
      "The sheet of the straight flange, 6061-O, from 11 to 15 Gauss points; a 90 degree arc of R/t 2.375, "
      "and the "
      "largest change over R/t 2.375 to 50:\n\n| state | exact [deg] | 11 points [deg] | 15 points [deg] | "
      "change | "
      "largest change | at R/t |\n|---|--:|--:|--:|--:|--:|--:|\n";
  for (const FlangeState& state : kFlangeStates) {
    double largest = 0;
    double largest_ratio = 0;
    std::string row;
    for (const double ratio : kFlangeRatios) {
      const Study study("", flange_bend(state, ratio));
      const double coarse = study.error(Rule::gauss, 11);
      const double fine = study.error(Rule::gauss, 15);
      if (std::abs(fine - coarse) > std::abs(largest)) {
        largest = fine - coarse;
        largest_ratio = ratio;
      }
      if (ratio == kFlangeRatios[0])
        row = fmt::format("| {} | {:.3f} | {:.3f} | {:.3f} | {:+.2f} % |", state.name, 90 * study.exact,
                          90 * study.exact * (1 + coarse), 90 * study.exact * (1 + fine),
                          100 * (fine - coarse));
    }
    text += fmt::format("{} {:+.2f} % | {:.3g} |\n", row, 100 * largest, largest_ratio);
  }
  return text;
}

Report run() {
  Report report;
  const std::vector<Study> studies = three_sheets();
  add_rows(studies, report);
  report.discussion = add_rule_table(studies, report);
  report.discussion += '\n' + gauss_table(studies);
  report.discussion += '\n' + flange_table();
  report.charts.push_back(flange_chart());
  return report;
}

}  // namespace

Problem thickness_rules() {
  return {"thickness-rules",
          "Points through the thickness: error of springback by rule and number",
          "Bending and springback",
          "our own fibre integral of 1000 fibres; moment errors of Gauss's rule: independent reckoning, no "
          "published "
          "source",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
