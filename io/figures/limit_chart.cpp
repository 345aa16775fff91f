#include "io/figures/limit_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "io/figures/plot.hpp"

namespace halftool::io {
namespace {

constexpr Rgb ink{0.10, 0.10, 0.12};
constexpr Rgb soft_ink{0.45, 0.45, 0.48};
constexpr double panel = 1190;  ///< left of the panel beside the plot [px]

using solver::path_reach;

Plot make_plot(const LimitChart& chart) {
  double least = -0.10, most = 0.10, high = 0.05;
  for (Eigen::Index t = 0; t < chart.strains.rows(); ++t) {
    high = std::max(high, chart.strains(t, 0));
    least = std::min(least, chart.strains(t, 1));
    most = std::max(most, chart.strains(t, 1));
  }
  double valley = std::numeric_limits<double>::infinity();
  for (const Eigen::Vector2d& p : chart.curve.points) valley = std::min(valley, p.y());
  if (std::isfinite(valley)) high = std::max(high, 1.25 * valley);
  const std::vector<double> x = ticks(1.15 * least, 1.15 * most, 10);
  const std::vector<double> y = ticks(0, 1.12 * high, 8);
  return {{Eigen::Vector2d(130, 150), Eigen::Vector2d(1140, 840)},
          {Eigen::Vector2d(x.front(), 0), Eigen::Vector2d(x.back(), y.back())}};
}

/// Faint lines of uniaxial tension, plane strain and equal stretching, each with its name along it.
void draw_paths(Canvas& canvas, const Plot& plot) {
  struct Path {
    double slope;  ///< minor over major
    const char* name;
  };
  const double top = plot.values.max().y();
  for (const Path& path :
       {Path{-0.5, "uniaxial tension"}, Path{0, "plane strain"}, Path{1, "equal stretching"}}) {
    double end = top;  // where the path leaves the plot
    if (path.slope < 0) end = std::min(end, plot.values.min().x() / path.slope);
    if (path.slope > 0) end = std::min(end, plot.values.max().x() / path.slope);
    const Eigen::Vector2d far(path.slope * end, end);
    canvas.line(plot.to_px(std::vector<Eigen::Vector2d>{{0, 0}, far}), {{0.72, 0.72, 0.74}, 1.2, {7, 6}});
    // Below the slanting lines, where no strain can lie; beside the upright one, above the curve.
    const Eigen::Vector2d from = plot.to_px(Eigen::Vector2d(0, 0));
    const Eigen::Vector2d way = plot.to_px(far) - from;
    TextStyle style{.size = 15, .colour = soft_ink, .anchor = Anchor::centre};
    if (path.slope == 0) {
      style.anchor = Anchor::left;
      canvas.text(from + 0.95 * way + Eigen::Vector2d(10, 0), path.name, style);
      continue;
    }
    style.turn = path.slope > 0 ? std::atan2(-way.y(), way.x()) : std::atan2(way.y(), -way.x());
    const Eigen::Vector2d below(std::sin(style.turn), std::cos(style.turn));
    canvas.text(from + 0.62 * way + 18 * below, path.name, style);
  }
}

/// Lowest share first, so that the worst lie on top; points that would fall on one already drawn are left
/// out.
void draw_strains(Canvas& canvas, const Plot& plot, const LimitChart& chart) {
  std::vector<Eigen::Index> order(static_cast<std::size_t>(chart.strains.rows()));
  std::iota(order.begin(), order.end(), 0);
  const auto share = [&](Eigen::Index t) {
    return std::isnan(chart.limit_share(t)) ? -1.0 : chart.limit_share(t);
  };
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return share(a) > share(b); });
  std::set<std::pair<long, long>> taken;
  std::vector<Eigen::Index> shown;
  for (const Eigen::Index t : order) {
    const Eigen::Vector2d px = plot.to_px(Eigen::Vector2d(chart.strains(t, 1), chart.strains(t, 0)));
    if (!px.allFinite()) continue;
    if (taken.emplace(std::lround(px.x() / 2), std::lround(px.y() / 2)).second) shown.push_back(t);
  }
  for (auto t = shown.rbegin(); t != shown.rend(); ++t) {
    const Eigen::Vector2d px = plot.to_px(Eigen::Vector2d(chart.strains(*t, 1), chart.strains(*t, 0)));
    const bool over = share(*t) > 1;
    canvas.disc(px, 4.4, over ? over_colour : Rgb{0.36, 0.36, 0.40});
    if (!over) {
      canvas.disc(px, 3.5, ramp_colour(chart.limit_share(*t)));
      continue;
    }
    for (const double side : {1.0, -1.0})
      canvas.line({{px.x() - 2.3, px.y() - 2.3 * side}, {px.x() + 2.3, px.y() + 2.3 * side}},
                  {over_hatch_colour, 1.2, {}});
  }
}

const Stroke unpressed_stroke{soft_ink, 2, {2, 5}};

/// What the lines are, and the table of bands by area.
void draw_panel(Canvas& canvas, const LimitChart& chart) {
  const TextStyle plain{.size = 18, .colour = ink};
  const TextStyle bold{.size = 19, .bold = true, .colour = ink};
  const TextStyle number{.size = 18, .colour = ink, .anchor = Anchor::right};
  double y = 164;
  canvas.line({{panel, y - 6}, {panel + 52, y - 6}}, {ink, 3, {}});
  canvas.text({panel + 66, y}, "forming limit", plain);
  const TextStyle name{.size = 15, .colour = soft_ink};
  y += 26;
  for (const std::string& line : wrapped(canvas, chart.curve.name, name, canvas.width() - 44 - panel)) {
    canvas.text({panel, y}, line, name);
    y += 19;
  }
  y += 19;
  canvas.line({{panel, y - 6}, {panel + 52, y - 6}}, {ink, 2, {10, 6}});
  canvas.text({panel + 66, y}, fmt::format("margin line, {:.0f} points below", 100 * chart.curve.margin),
              plain);
  if (!chart.curve.unpressed.empty()) {
    y += 30;
    canvas.line({{panel, y - 6}, {panel + 52, y - 6}}, unpressed_stroke);
    canvas.text({panel + 66, y}, "limit without the normal pressure", plain);
  }
  std::array<double, 4> area{};
  double not_judged = 0;
  for (Eigen::Index t = 0; t < chart.strains.rows(); ++t)
    (std::isnan(chart.limit_share(t))
         ? not_judged
         : area[static_cast<std::size_t>(band_of(chart.curve, chart.strains.row(t)))]) += chart.areas(t);
  y += 68;
  canvas.text({panel, y}, "Band", bold);
  canvas.text({1556, y}, "share of the area",
              {.size = 19, .bold = true, .colour = ink, .anchor = Anchor::right});
  canvas.line({{panel, y + 12}, {1556, y + 12}}, {soft_ink, 1, {}});
  const std::array<const char*, 4> meaning = {"metal to spare", "up to the margin line",
                                              "inside the limit, past the margin", "past the forming limit"};
  for (std::size_t b = 0; b < 4; ++b) {
    y += 58;
    canvas.text({panel, y - 10}, band_names[b], plain);
    canvas.text({panel, y + 11}, meaning[b], {.size = 15, .colour = soft_ink});
    canvas.text({1556, y - 4}, fmt::format("{:.2f} %", 100 * area[b] / chart.areas.sum()), number);
  }
  if (not_judged == 0) return;
  y += 58;
  canvas.text({panel, y - 10}, "not judged", plain);
  canvas.text({panel, y + 11}, "paths beside the curve", {.size = 15, .colour = soft_ink});
  canvas.text({1556, y - 4}, fmt::format("{:.2f} %", 100 * not_judged / chart.areas.sum()), number);
}

/// The colours of the points, lying, under the panel.
void draw_share_scale(Canvas& canvas) {
  const double left = panel, right = 1476, top = 734, bottom = 760;
  const TextStyle style{.size = 18, .colour = ink, .anchor = Anchor::centre};
  canvas.text({left, top - 18}, "share of the forming limit", {.size = 19, .bold = true, .colour = ink});
  const int n_steps = 128;
  for (int i = 0; i < n_steps; ++i) {
    const double x = left + (right - left) * i / n_steps;
    const double end = std::min(right, left + (right - left) * (i + 1) / n_steps + 1);
    canvas.fill(rectangle(x, top, end, bottom), ramp_colour((i + 0.5) / n_steps));
  }
  canvas.line(rectangle(left, top, right, bottom), {ink, 1.2, {}}, true);
  for (const double value : {0.0, 0.5, 1.0}) {
    const double x = left + value * (right - left);
    canvas.line({{x, bottom}, {x, bottom + 7}}, {ink, 1.2, {}});
    canvas.text({x, bottom + 27}, fmt::format("{:.1f}", value), style);
  }
  const Polyline swatch = rectangle(1512, top, 1556, bottom);
  draw_over_swatch(canvas, swatch);
  canvas.line(swatch, {ink, 1.2, {}}, true);
  canvas.text({1534, bottom + 27}, "over", style);
}

}  // namespace

LimitCurve sample_limit(const solver::FormingLimit& limit, const std::string& name) {
  LimitCurve curve;
  curve.name = name;
  if (const auto* measured = std::get_if<solver::MeasuredLimit>(&limit)) {
    curve.points = curve.measured = measured->points;
    return curve;
  }
  if (const auto* computed = std::get_if<solver::ComputedLimit>(&limit)) {
    curve.points = computed->points;
    curve.unpressed = computed->unpressed;
    return curve;
  }
  for (int i = -50; i <= 50; ++i) curve.points.emplace_back(0.01 * i, solver::limit_major(limit, 0.01 * i));
  return curve;
}

std::vector<Eigen::Vector2d> margin_line(const LimitCurve& curve) {
  std::vector<Eigen::Vector2d> line;
  for (const Eigen::Vector2d& p : curve.points) {
    const double engineering = std::exp(p.y()) - 1 - curve.margin;
    if (engineering > 0) line.emplace_back(p.x(), std::log1p(engineering));
  }
  return line;
}

Band band_of(const LimitCurve& curve, const Eigen::Vector2d& strain) {
  const Eigen::Vector2d point(strain.y(), strain.x());
  if (!(strain.x() > 0)) return Band::roomy;
  const double to_limit = path_reach(curve.points, point);
  const double to_margin = path_reach(margin_line(curve), point);
  const double share = 1 / to_limit;
  const double margin_share =
      std::isfinite(to_limit) && std::isfinite(to_margin) ? to_margin / to_limit : 1.0;
  if (share > 1) return Band::over;
  if (share > margin_share) return Band::close;
  return share > margin_share - 0.15 ? Band::worked : Band::roomy;
}

void draw_limit_chart(const std::filesystem::path& path, const LimitChart& chart) {
  Canvas canvas(path, 1600, 1000);
  const Plot plot = make_plot(chart);
  draw_caption(canvas, chart.caption);
  draw_axes(canvas, plot, "minor true strain, mid-surface", "major true strain, mid-surface", {10, 8});
  plot.clip(canvas);
  draw_paths(canvas, plot);
  draw_strains(canvas, plot, chart);
  canvas.line(plot.to_px(margin_line(chart.curve)), {ink, 2, {10, 6}});
  canvas.line(plot.to_px(chart.curve.points), {ink, 3, {}});
  canvas.line(plot.to_px(chart.curve.unpressed), unpressed_stroke);
  for (const Eigen::Vector2d& point : chart.curve.measured) canvas.disc(plot.to_px(point), 5, ink);
  canvas.unclip();
  draw_panel(canvas, chart);
  draw_share_scale(canvas);
  canvas.save();
}

}  // namespace halftool::io
