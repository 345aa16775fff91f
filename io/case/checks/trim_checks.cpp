#include <fmt/format.h>

#include <algorithm>

#include "io/case/checks/case_checks.hpp"
#include "io/case/document.hpp"
#include "io/case/quantity.hpp"
#include "mesh/outline.hpp"
#include "mesh/trim_side.hpp"

namespace halftool::io {
namespace {

bool is_step(const CheckedCase& c, const std::string& name) {
  return std::any_of(c.values.steps.begin(), c.values.steps.end(),
                     [&](const PressStep& step) { return step.name == name; });
}

void check_time(const CheckedCase& c, const TrimLine& trim, const std::string& table) {
  if (trim.after_step.empty() || !c.sound({"step"})) return;
  if (!is_step(c, trim.after_step))
    c.error(table + ".after_step", toml_text(trim.after_step), "the name of a step",
            "write the name of the step after which the sheet is trimmed, or leave the key out");
  else if (trim.when == TrimTime::before_release && trim.after_step != c.values.steps.back().name)
    c.error(table + ".when", "a time of release after a step before the last",
            "only after the last step: between two steps the sheet is trimmed on the tool", "leave it out");
}

/// A line of a half or a quarter must be that of the whole part.
void check_mirror(const CheckedCase& c, const TrimLine& trim, const std::string& key) {
  for (const int axis : {0, 1}) {
    if (!(axis == 0 ? c.values.blank.symmetric_x : c.values.blank.symmetric_y) || axis == trim.along)
      continue;
    std::vector<mesh::Loop> loops = trim.line.holes;
    loops.push_back(trim.line.outer);
    // The first coordinate of the line is x or, looked at along x, y.
    const double difference = mirror_difference(loops, trim.along == 0 ? axis - 1 : axis);
    constexpr double tolerance = 1e-3;
    if (difference <= tolerance) continue;
    c.error(key,
            fmt::format("a trim line that differs by {} across {} = 0",
                        print_quantity(difference, Dimension::length, "mm"), axis == 0 ? "x" : "y"),
            "a line that is the same on both sides of the planes of symmetry",
            "draw the line of the whole part, or leave this plane of symmetry out");
  }
}

/// A line seen along the press axis must meet the flat blank, which covers the formed part.
void check_reach(const CheckedCase& c, const TrimLine& trim, const std::string& key) {
  constexpr int press_axis = 2;
  if (trim.along != press_axis || !c.sound({"blank"})) return;
  const mesh::PlacedOutline blank = mesh::place_outline(c.values.blank);
  const auto unmet = find_unmet(trim, blank.low, blank.high);
  if (!unmet) return;
  c.error(key, unmet->found, "a line over the blank, " + extent(blank.low, blank.high),
          unmet->beside ? "draw it in the tool's frame, in which the blank lies" : unmet->mend);
}

}  // namespace

void check_trims(const CheckedCase& c) {
  for (size_t i = 0; i < c.values.trims.size(); ++i) {
    const TrimLine& trim = c.values.trims[i];
    const std::string table = fmt::format("trim[{}]", i + 1);
    check_time(c, trim, table);
    const std::string key = fmt::format("{}.{}", table, c.given(table + ".drawing") ? "drawing" : "polygon");
    if (!c.sound({table}) || trim.line.outer.empty()) continue;
    check_reach(c, trim, key);
    if (c.sound({table, "symmetry"})) check_mirror(c, trim, key);
  }
}

std::string extent(const Eigen::Vector2d& low, const Eigen::Vector2d& high) {
  return fmt::format("from ({:.6g}, {:.6g}) to ({:.6g}, {:.6g})", low.x(), low.y(), high.x(), high.y());
}

std::optional<UnmetTrim> find_unmet(const TrimLine& trim, const Eigen::Vector2d& low,
                                    const Eigen::Vector2d& high) {
  const mesh::TrimSpec spec{trim.line, trim.keep == TrimKeeps::inside, trim.along};
  const mesh::BoxSide side = mesh::TrimSide(spec).side_of(low, high);
  if (side == mesh::BoxSide::across) return std::nullopt;
  Eigen::Vector2d from = trim.line.outer.front().start, to = from;
  mesh::grow_box(trim.line.outer, from, to);
  UnmetTrim unmet;
  unmet.beside = !((from.array() < high.array()).all() && (to.array() > low.array()).all());
  unmet.found = "a trim line " + extent(from, to);
  if (!unmet.beside)
    unmet.found += side == mesh::BoxSide::kept ? " that cuts nothing off" : " that leaves nothing";
  unmet.mend = "draw it across the part, in the tool's frame; as it lies it does not meet the part";
  return unmet;
}

}  // namespace halftool::io
