#include "io/figures/variant_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

namespace halftool::io {
namespace {

constexpr int width = 1600;
constexpr double margin = 44, names = 330, gap = 34;               // [px]
constexpr double top = 196, foot = 104;                            // above and below the bars [px]
constexpr double bar = 26, between_bars = 6, between_groups = 50;  // [px]
constexpr Rgb ink{0.10, 0.10, 0.12};
constexpr Rgb soft_ink{0.30, 0.30, 0.33};
constexpr Rgb grid{0.88, 0.88, 0.89};

/// One result of all runs.
struct Measure {
  std::string heading;
  std::string unit;
  int decimals = 2;
  std::function<double(const VariantRow&)> of;
  double mark = std::nan("");  ///< a limit, drawn as a line
};

/// Runs of one sheet against one kind of forming limit, which differ in how it hardens.
struct Group {
  const VariantRow* sheet = nullptr;
  std::vector<const VariantRow*> rows;
};

bool is_same_sheet(const VariantRow& a, const VariantRow& b) {
  return a.material == b.material && a.thickness == b.thickness && a.limit_kind == b.limit_kind &&
         a.hardening != b.hardening;
}

std::vector<Group> groups_of(const std::vector<VariantRow>& rows) {
  std::vector<Group> groups;
  for (const VariantRow& row : rows) {
    const auto found = std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
      return std::all_of(group.rows.begin(), group.rows.end(),
                         [&](const VariantRow* other) { return is_same_sheet(*other, row); });
    });
    if (found != groups.end())
      found->rows.push_back(&row);
    else
      groups.push_back({&row, {&row}});
  }
  return groups;
}

/// The flange that moves most in any run; empty: none was found.
std::string leading_flange(const std::vector<VariantRow>& rows) {
  std::string name;
  double most = -1;
  for (const VariantRow& row : rows)
    for (const auto& [flange, angle] : row.springback)
      if (std::abs(angle) > most) {
        most = std::abs(angle);
        name = flange;
      }
  return name;
}

std::vector<Measure> measures_of(const std::vector<VariantRow>& rows) {
  const std::string flange = leading_flange(rows);
  std::vector<Measure> measures = {
      {"springback, " + flange, "deg", 2,
       [flange](const VariantRow& row) {
         const auto found = row.springback.find(flange);
         return found == row.springback.end() ? std::nan("") : found->second;
       }},
      {"share of forming limit", "%", 1, [](const VariantRow& row) { return 100 * row.forming_share(); },
       100},
      {"worst thinning", "%", 2, [](const VariantRow& row) { return 100 * row.thinning; }}};
  const bool has_limit = std::any_of(rows.begin(), rows.end(),
                                     [](const VariantRow& row) { return !std::isnan(row.bend_share); });
  if (has_limit)
    measures.push_back(
        {"share of bend limit", "%", 1, [](const VariantRow& row) { return 100 * row.bend_share; }, 100});
  else
    measures.push_back(
        {"strain, outer fibre of bends", "-", 3, [](const VariantRow& row) { return row.bend_strain; }});
  std::erase_if(measures, [&](const Measure& measure) {
    return std::all_of(rows.begin(), rows.end(),
                       [&](const VariantRow& row) { return std::isnan(measure.of(row)); });
  });
  return measures;
}

/// The style, smaller if the words would not fit.
TextStyle fitted(const Canvas& canvas, const std::string& words, TextStyle style, double room) {
  const double needed = canvas.text_width(words, style);
  if (needed > room) style.size *= room / needed;
  return style;
}

void draw_bar(Canvas& canvas, const Polyline& outline, bool kinematic) {
  canvas.fill(outline, ramp_colour(kinematic ? 1.0 : 0.1));
  if (!kinematic) canvas.hatch(outline, {ramp_colour(0.8), 1.2, {}}, 8, 0.25 * std::numbers::pi);
  canvas.line(outline, {ink, 1.2, {}}, true);
}

void draw_legend(Canvas& canvas) {
  double x = margin;
  for (const bool kinematic : {true, false}) {
    draw_bar(canvas, rectangle(x, 118, x + 40, 138), kinematic);
    const std::string words = kinematic ? "kinematic hardening" : "isotropic hardening";
    const TextStyle style{.size = 18, .colour = ink};
    canvas.text({x + 50, 134}, words, style);
    x += 50 + canvas.text_width(words, style) + 44;
  }
}

/// The sheet's name in at most two lines; where it needs more, the run's label, cut off after two.
std::vector<std::string> name_lines(const Canvas& canvas, const VariantRow& sheet, const TextStyle& style) {
  std::vector<std::string> lines = wrapped(canvas, sheet.material, style, names - 20);
  if (lines.size() > 2) lines = wrapped(canvas, sheet.label, style, names - 20);
  if (lines.size() > 2) {
    lines.resize(2);
    lines.back() += " ...";
  }
  return lines;
}

/// Name, thickness, grade and kind of forming limit below.
void draw_names(Canvas& canvas, const Group& group, double y) {
  const TextStyle name{.size = 18, .bold = true, .colour = ink};
  const TextStyle facts{.size = 16, .colour = soft_ink};
  for (const std::string& line : name_lines(canvas, *group.sheet, name)) {
    canvas.text({margin, y}, line, fitted(canvas, line, name, names - 20));
    y += 21;
  }
  const std::string below = fmt::format("{:.4g} mm, constants: {}", group.sheet->thickness,
                                        group.sheet->grade.empty() ? "grade not stated" : group.sheet->grade);
  canvas.text({margin, y}, below, fitted(canvas, below, facts, names - 20));
  if (std::isnan(group.sheet->forming_share())) return;
  const std::string limit = "forming limit: " + group.sheet->limit_kind;
  canvas.text({margin, y + 20}, limit, fitted(canvas, limit, facts, names - 20));
}

/// A column of bars.
struct Panel {
  const Measure& measure;
  double left = 0, right = 0;    ///< [px]
  double zero = 0, per_one = 0;  ///< place of the value 0 and of its unit [px]
};

Panel panel_of(const Measure& measure, const std::vector<VariantRow>& rows, double left, double right) {
  double low = 0, high = 0;
  for (const VariantRow& row : rows) {
    const double value = measure.of(row);
    if (std::isnan(value)) continue;
    low = std::min(low, value);
    high = std::max(high, value);
  }
  constexpr double room = 78;  // for the value beside its bar [px]
  const double from = left + (low < 0 ? room : 4), to = right - (high > 0 || low == 0 ? room : 4);
  Panel panel{measure, left, right, 0, (to - from) / std::max(high - low, 1e-12)};
  panel.zero = from - low * panel.per_one;
  return panel;
}

/// Words on a white ground, for the mark of a limit may run through them.
void draw_words(Canvas& canvas, const Eigen::Vector2d& at, const std::string& words, const TextStyle& style) {
  const double wide = canvas.text_width(words, style);
  const double left = style.anchor == Anchor::right ? at.x() - wide : at.x();
  canvas.fill(rectangle(left - 3, at.y() - 16, left + wide + 3, at.y() + 5), {1, 1, 1}, 1);
  canvas.text(at, words, style);
}

void draw_value(Canvas& canvas, const Panel& panel, const VariantRow& row, double y) {
  const double value = panel.measure.of(row);
  const TextStyle style{.size = 17, .colour = ink};
  if (std::isnan(value)) {
    draw_words(canvas, {panel.zero + (panel.zero > panel.right - 80 ? -110 : 8), y + 19},
               row.is_complete() ? "not judged" : row.outcome, style);
    return;
  }
  const double end = panel.zero + value * panel.per_one;
  draw_bar(canvas, rectangle(std::min(end, panel.zero), y, std::max(end, panel.zero), y + bar),
           row.hardening == "kinematic");
  TextStyle beside = style;
  beside.anchor = value < 0 ? Anchor::right : Anchor::left;
  draw_words(canvas, {end + (value < 0 ? -7 : 7), y + 19},
             fmt::format("{:.{}f}", value, panel.measure.decimals), beside);
}

void draw_frame(Canvas& canvas, const Panel& panel, double bottom) {
  const std::string heading = fmt::format("{} [{}]", panel.measure.heading, panel.measure.unit);
  const TextStyle style{.size = 18, .bold = true, .colour = ink};
  canvas.text({panel.left, top - 22}, heading, fitted(canvas, heading, style, panel.right - panel.left));
  canvas.line({{panel.left, top - 10}, {panel.right, top - 10}}, {grid, 1, {}});
  canvas.line({{panel.zero, top - 10}, {panel.zero, bottom}}, {ink, 1.3, {}});
  const double mark = panel.zero + panel.measure.mark * panel.per_one;
  if (!(mark < panel.right)) return;
  canvas.line({{mark, top - 10}, {mark, bottom}}, {ink, 2, {9, 5}});
}

}  // namespace

void draw_variants(const std::filesystem::path& path, const Caption& caption,
                   const std::vector<VariantRow>& rows) {
  const std::vector<Group> groups = groups_of(rows);
  const std::vector<Measure> measures = measures_of(rows);
  double high = 0;
  for (const Group& group : groups)
    high += std::max(2.0, static_cast<double>(group.rows.size())) * (bar + between_bars) + between_groups;
  Canvas canvas(path, width, static_cast<int>(top + high + foot));
  draw_caption(canvas, caption);
  draw_legend(canvas);
  const auto n = static_cast<double>(measures.size());
  const double wide = (width - 2 * margin - names - gap * (n - 1)) / std::max(n, 1.0);
  std::vector<Panel> panels;
  for (std::size_t i = 0; i < measures.size(); ++i) {
    const double left = margin + names + static_cast<double>(i) * (wide + gap);
    panels.push_back(panel_of(measures[i], rows, left, left + wide));
    draw_frame(canvas, panels.back(), top + high - between_groups);
  }
  double y = top + 4;
  for (const Group& group : groups) {
    draw_names(canvas, group, y + 17);
    double at = y;
    for (const VariantRow* row : group.rows) {
      for (const Panel& panel : panels) draw_value(canvas, panel, *row, at);
      at += bar + between_bars;
    }
    y += std::max(2.0, static_cast<double>(group.rows.size())) * (bar + between_bars) + between_groups;
    if (&group != &groups.back())
      canvas.line({{margin, y - between_groups / 2 - 2}, {width - margin, y - between_groups / 2 - 2}},
                  {grid, 1, {}});
  }
  canvas.save();
}

}  // namespace halftool::io
