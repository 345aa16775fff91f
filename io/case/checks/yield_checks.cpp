#include <fmt/format.h>

#include <array>
#include <cmath>
#include <numbers>

#include "io/case/checks/case_checks.hpp"
#include "solver/material/yld2000_fit.hpp"

namespace halftool::io {
namespace {

const std::string material_table = "sheet.material.";
constexpr double degree = std::numbers::pi / 180;

/// The hardening law is that of tension along rolling: estimates and forming limits take it so.
/// @param along  yield stress along rolling over the flow stress
void check_along_rolling(const CheckedCase& c, const std::string& key, double along, const char* mend) {
  constexpr double rounding = 0.01;  // of a ratio that was divided by the first
  if (std::abs(along - 1) <= rounding) return;
  c.warning(key, fmt::format("{:.4g} along rolling", along),
            "1 along rolling, where the hardening law is that of tension along rolling",
            fmt::format("{}: estimates and forming limits take the law for tension along rolling", mend));
}

/// A sheet grows neither wider nor thicker as it is pulled.
/// @return  false: reported as an error
bool check_r_values(const CheckedCase& c, const std::string& key, const solver::Yld2000& yield,
                    const char* mend) {
  constexpr int spacing = 5;
  int worst = 0;
  double least = 0;
  for (int angle = 0; angle <= 90; angle += spacing) {
    const double r = solver::tension_test(yield, angle * degree).r_value;
    if (r >= least) continue;
    least = r;
    worst = angle;
  }
  if (least == 0) return true;
  c.error(key, fmt::format("r {:.3f} in tension at {} deg to rolling", least, worst),
          "r-values of 0 or more in every direction: below it width or thickness would grow in tension",
          mend);
  return false;
}

/// Coefficients as they stand in the case.
void check_coefficients(const CheckedCase& c, const solver::Yld2000& yield) {
  const std::string table = material_table + "yld2000";
  if (!c.sound({table})) return;
  const std::string key = table + ".alpha";
  if (!check_r_values(c, key, yield, "check the eight coefficients, their order and the exponent")) return;
  check_along_rolling(c, key, solver::tension_test(yield, 0).ratio,
                      "multiply all eight by this ratio, or give the law that they were fitted beside");
}

/// Hill's condition makes the yield stresses follow from the r-values. Equibiaxial tension is left out: there
/// it overstates the yield stress of every sheet of high r-values.
void check_hill(const CheckedCase& c, const solver::RValues& r) {
  const std::string key = material_table + "r_values";
  if (!c.sound({key})) return;
  constexpr double least = 0.8, most = 1.25;  // our judgement: measured ratios of sheets lie between
  constexpr int spacing = 15;
  double farthest = 1;
  int where = 0;
  for (int angle = 0; angle <= 90; angle += spacing) {
    const double ratio = solver::tension_test(r, angle * degree).ratio;
    if (std::abs(std::log(ratio)) <= std::abs(std::log(farthest))) continue;
    farthest = ratio;
    where = angle;
  }
  if (farthest >= least && farthest <= most) return;
  c.warning(
      key, fmt::format("yield at {:.3g} of the flow stress in tension at {} deg to rolling", farthest, where),
      fmt::format("a ratio not far from 1, {:g} to {:g} (our judgement)", least, most),
      "check the r-values and their order; Hill 1948 lets the yield stresses follow from them: where "
      "tests gave others, yld2000_fit takes both");
}

/// Eight tests and eight coefficients: what is missed is out of reach of the yield condition.
void check_fit_to_tests(const CheckedCase& c, const solver::Yld2000Tests& tests) {
  const std::string key = material_table + "yld2000_fit";
  if (!c.sound({key})) return;
  constexpr double too_far = 0.05;      // our judgement
  constexpr double noticeable = 0.005;  // about what tensile tests scatter by, from memory
  constexpr std::array<const char*, 4> names = {"0 deg", "45 deg", "90 deg", "equibiaxial tension"};
  check_along_rolling(c, key + ".yield_ratios", tests.yield_ratios.front(),
                      "divide all four by the first, or give the law whose stress they are ratios of");
  const auto fit = solver::fit_yld2000(tests);
  const auto& worst = fit.returned.at(fit.worst);
  const auto found = fmt::format(
      "a miss of {:.2g} % at {}: yield ratio {:g} given, {:.4f} fitted; r {:g} given, {:.4f} fitted",
      100 * fit.largest_miss, names.at(fit.worst), tests.yield_ratios.at(fit.worst), worst.ratio,
      tests.r_values.at(fit.worst), worst.r_value);
  const std::string mend =
      "check yield_ratios and r_values: the yield condition comes no nearer to all at once";
  if (fit.largest_miss > too_far) return c.error(key + ".yield_ratios", found, "a miss of at most 5 %", mend);
  if (fit.largest_miss > noticeable) c.warning(key + ".yield_ratios", found, "a miss of at most 0.5 %", mend);
  check_r_values(c, key + ".r_values", fit.yield, "check yield_ratios and r_values, and the exponent");
}

}  // namespace

void check_yield(const CheckedCase& c) {
  const solver::YieldCondition& yield = c.values.material.yield;
  if (const auto* r = std::get_if<solver::RValues>(&yield)) check_hill(c, *r);
  if (const auto* yld = std::get_if<solver::Yld2000>(&yield)) check_coefficients(c, *yld);
  if (const auto* tests = std::get_if<solver::Yld2000Tests>(&yield)) check_fit_to_tests(c, *tests);
}

}  // namespace halftool::io
