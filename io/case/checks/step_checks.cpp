#include <fmt/format.h>

#include <algorithm>

#include "io/case/checks/case_checks.hpp"
#include "io/case/document.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {
namespace {

std::string mpa(double pressure) {
  return print_quantity(pressure, Dimension::pressure, "MPa");
}

/// In the unit that takes fewest digits, which is most likely the one in the file.
std::string as_written(double pressure) {
  return print_exactly(pressure, Dimension::pressure, "MPa");
}

void warn_of_low_peak(const CheckedCase& c, const std::string& key, double peak, double lowest) {
  const auto text = as_written(peak);
  const auto unit = text.find(" psi");
  c.warning(key, "a peak of " + text, fmt::format("usually above {}", mpa(lowest)),
            unit == std::string::npos ? "so little hardly folds a sheet; check the unit"
                                      : fmt::format("{} hardly folds a sheet; did you mean \"{} MPa\"?",
                                                    mpa(peak), text.substr(0, unit)));
}

/// @return false if an error was found
bool check_schedule_order(const CheckedCase& c, const std::vector<solver::SchedulePoint>& schedule,
                          const std::string& key) {
  const auto point_key = [&](size_t i) { return fmt::format("{}[{}]", key, i + 1); };
  for (size_t i = 1; i < schedule.size(); ++i) {
    const auto& before = schedule[i - 1];
    const auto& here = schedule[i];
    if (here.share > before.share && here.pressure >= before.pressure) continue;
    const bool time = here.share <= before.share;
    const auto percent = [](double share) { return print_quantity(share, Dimension::ratio, "%"); };
    c.findings.error(
        c.lines.at(key), point_key(i),
        time ? fmt::format("{} after {}", percent(here.share), percent(before.share))
             : fmt::format("{} after {}", as_written(here.pressure), as_written(before.pressure)),
        time ? "shares that rise" : "a pressure that does not fall",
        time ? "put the points in the order of time" : "leave the fall out: release follows by itself");
    return false;
  }
  return true;
}

void check_schedule(const CheckedCase& c, const std::vector<solver::SchedulePoint>& schedule,
                    const std::string& key) {
  if (schedule.size() < 2) {
    c.error(key, schedule.empty() ? "no points" : "one point", "at least two points, from 0 % to 100 %",
            R"(write for example [["0 %", "0 psi"], ["100 %", "14500 psi"]])");
    return;
  }
  if (!check_schedule_order(c, schedule, key)) return;
  if (schedule.front().share != 0 || schedule.back().share != 1) {
    c.error(key,
            fmt::format("{} to {}", print_quantity(schedule.front().share, Dimension::ratio, "%"),
                        print_quantity(schedule.back().share, Dimension::ratio, "%")),
            "shares from 0 % to 100 %", "the first point stands at 0 %, the last, with the peak, at 100 %");
    return;
  }
  const double peak = schedule.back().pressure;
  constexpr double lowest_peak = 2;  // below, hardly any sheet folds: common practice, no source
  if (peak <= 0)
    c.error(key, "a peak of 0 MPa", "a peak above 0 MPa",
            "the last point holds the peak, for example \"14500 psi\"");
  else if (peak < lowest_peak)
    warn_of_low_peak(c, key, peak, lowest_peak);
  if (peak > 0 && schedule.front().pressure > 0.1 * peak)
    c.warning(key, "a start at " + as_written(schedule.front().pressure), "a start near 0 MPa",
              "the sheet folds and draws in at low pressure; start the schedule at 0 MPa");
}

/// Whether a step before the given one has its name.
bool is_named_before(const std::vector<PressStep>& steps, size_t i) {
  return std::any_of(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(i),
                     [&](const PressStep& step) { return step.name == steps[i].name; });
}

/// The step that an insert names as its last; the number of steps if there is none.
size_t last_step_of(const CheckedCase& c, const ToolInsert& insert) {
  const auto& steps = c.values.steps;
  size_t i = 0;
  while (i < steps.size() && steps[i].name != insert.last_step) ++i;
  return i;
}

}  // namespace

void check_steps(const CheckedCase& c) {
  if (!c.sound({"step"})) return;
  const auto& steps = c.values.steps;
  for (size_t i = 0; i < steps.size(); ++i) {
    const std::string table = fmt::format("step[{}]", i + 1);
    if (c.given(table + ".pressure")) check_schedule(c, steps[i].schedule, table + ".pressure");
    if (!steps[i].name.empty() && is_named_before(steps, i))
      c.error(table + ".name", "\"" + steps[i].name + "\" again", "a name of its own for each step",
              "give this step another name");
  }
}

void check_inserts(const CheckedCase& c) {
  const auto& inserts = c.values.inserts;
  if (!inserts.empty() && std::holds_alternative<mesh::StlShape>(c.values.tool.shape))
    c.error("tool.insert[1].name", "an insert beside an STL tool", "a tool half from STEP or from measures",
            "give the tool half as STEP: facets cannot be joined with the insert to one body");
  for (size_t i = 0; i < inserts.size(); ++i) {
    const std::string table = fmt::format("tool.insert[{}]", i + 1);
    const auto same = [&](const ToolInsert& other) { return other.name == inserts[i].name; };
    if (c.given(table + ".name") &&
        std::any_of(inserts.begin(), inserts.begin() + static_cast<std::ptrdiff_t>(i), same))
      c.error(table + ".name", toml_text(inserts[i].name) + " again", "a name of its own for each insert",
              "give this insert another name");
    if (c.given(table + ".step"))
      check_shape_file(c, table + ".step", std::get<mesh::StepShape>(inserts[i].shape).path,
                       {".step", ".stp"}, "a STEP file, .step or .stp",
                       "export the insert as STEP (ISO 10303)");
    if (!c.given(table + ".last_step") || !c.sound({"step"})) continue;
    const size_t last = last_step_of(c, inserts[i]);
    if (last == c.values.steps.size())
      c.error(table + ".last_step", toml_text(inserts[i].last_step), "the name of a step",
              "write the name of the step after which the insert is taken out");
    else if (last + 1 == c.values.steps.size())
      c.warning(table + ".last_step", "the last step", "a step before the last",
                "the insert is never taken out; add the step that presses without it");
  }
}

}  // namespace halftool::io
