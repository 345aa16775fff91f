#include "io/figures/panel_chart.hpp"

#include <algorithm>
#include <array>

#include "io/figures/plot.hpp"

namespace halftool::io {
namespace {

constexpr int width = 1600;
constexpr int height = 900;
constexpr double left = 130, right = 1556, top = 190, bottom = 740;  ///< of all panels [px]
constexpr double gap = 150;                                          ///< between two panels [px]
constexpr Rgb ink{0.10, 0.10, 0.12};
constexpr Rgb soft_ink{0.45, 0.45, 0.48};

Stroke stroke_of(std::size_t line) {
  static const std::array<Stroke, 5> strokes = {
      Stroke{ramp_colour(1.0), 4.5, {}}, Stroke{ramp_colour(0.85), 3, {12, 6}},
      Stroke{ramp_colour(0.25), 1.8, {}}, Stroke{ramp_colour(0.70), 3, {3, 5}},
      Stroke{ramp_colour(0.95), 2, {16, 5, 3, 5}}};
  return strokes.at(line % strokes.size());
}

/// How much of the panel's lines and points lies under a box [px].
int covered(const Plot& plot, const ChartPanel& panel, const Eigen::AlignedBox2d& box) {
  constexpr int parts = 20;  // of a stretch of line
  int n = 0;
  for (const ChartLine& line : panel.lines) {
    const auto px = plot.to_px(line.points);
    for (std::size_t i = 0; i + 1 < px.size(); ++i)
      for (int part = 0; part <= parts; ++part)
        n += box.contains(px[i] + static_cast<double>(part) / parts * (px[i + 1] - px[i])) ? 1 : 0;
  }
  for (const Eigen::Vector2d& point : panel.points) n += box.contains(plot.to_px(point)) ? 1 : 0;
  return n;
}

/// At the lower right, where rising curves leave room, unless it covers less at the top, where curves with a
/// valley do.
Eigen::AlignedBox2d legend_box(const Plot& plot, const ChartPanel& panel, const Eigen::Vector2d& size) {
  constexpr double edge = 4;
  const Eigen::Vector2d low = plot.place.min(), high = plot.place.max();
  Eigen::AlignedBox2d best;
  int least = -1;
  for (const Eigen::Vector2d& at : {Eigen::Vector2d(high - size - Eigen::Vector2d(edge, edge)),
                                    Eigen::Vector2d(0.5 * (low.x() + high.x() - size.x()), low.y() + edge)}) {
    const Eigen::AlignedBox2d box(at, at + size);
    const int n = covered(plot, panel, box);
    if (least >= 0 && n >= least) continue;
    least = n;
    best = box;
  }
  return best;
}

void draw_legend(Canvas& canvas, const Plot& plot, const ChartPanel& panel) {
  constexpr double row = 26;
  const TextStyle style{.size = 17, .colour = ink};
  const std::size_t n = panel.lines.size() + (panel.points.empty() ? 0 : 1);
  double wide = 0;
  for (const ChartLine& line : panel.lines) wide = std::max(wide, canvas.text_width(line.name, style));
  if (!panel.points.empty()) wide = std::max(wide, canvas.text_width(panel.points_name, style));
  const auto box = legend_box(plot, panel, {wide + 92, 12 + row * static_cast<double>(n)});
  canvas.fill(rectangle(box.min().x(), box.min().y(), box.max().x(), box.max().y()), {1, 1, 1}, 0.88);
  const double x = box.min().x() + 12;
  double y = box.min().y() + 24;
  for (std::size_t i = 0; i < panel.lines.size(); ++i, y += row) {
    canvas.line({{x, y - 6}, {x + 52, y - 6}}, stroke_of(i));
    canvas.text({x + 64, y}, panel.lines[i].name, style);
  }
  if (panel.points.empty()) return;
  canvas.ring({x + 26, y - 6}, 4, {soft_ink, 1.5, {}});
  canvas.text({x + 64, y}, panel.points_name, style);
}

void draw_panel(Canvas& canvas, const Plot& plot, const ChartPanel& panel) {
  canvas.text({plot.place.min().x(), plot.place.min().y() - 18}, panel.heading,
              {.size = 20, .bold = true, .colour = ink});
  const int wanted = plot.place.sizes().x() > 900 ? 10 : 6;
  draw_axes(canvas, plot, panel.x_title, panel.y_title, {wanted, 8});
  plot.clip(canvas);
  for (const Eigen::Vector2d& point : panel.points) canvas.ring(plot.to_px(point), 4, {soft_ink, 1.5, {}});
  for (std::size_t i = 0; i < panel.lines.size(); ++i)
    canvas.line(plot.to_px(panel.lines[i].points), stroke_of(i));
  canvas.unclip();
  if (!panel.lines.empty() || !panel.points.empty()) draw_legend(canvas, plot, panel);
}

}  // namespace

Eigen::AlignedBox2d chart_values(const std::vector<ChartLine>& lines,
                                 const std::vector<Eigen::Vector2d>& points) {
  Eigen::AlignedBox2d box(Eigen::Vector2d(0, 0));
  for (const ChartLine& line : lines)
    for (const Eigen::Vector2d& point : line.points) box.extend(point);
  for (const Eigen::Vector2d& point : points) box.extend(point);
  const Eigen::Vector2d largest = box.max().cwiseMax(Eigen::Vector2d(1e-6, 1e-6));
  const std::vector<double> x = ticks(box.min().x(), largest.x(), 6);
  const std::vector<double> y = ticks(box.min().y(), 1.05 * largest.y(), 8);
  return {Eigen::Vector2d(x.front(), y.front()), Eigen::Vector2d(x.back(), y.back())};
}

void draw_panel_chart(const std::filesystem::path& path, const Caption& caption,
                      const std::vector<ChartPanel>& panels) {
  Canvas canvas(path, width, height);
  draw_caption(canvas, caption);
  const auto n = static_cast<double>(panels.size());
  const double wide = (right - left - gap * (n - 1)) / n;
  for (std::size_t i = 0; i < panels.size(); ++i) {
    const double x = left + static_cast<double>(i) * (wide + gap);
    draw_panel(canvas, {{Eigen::Vector2d(x, top), Eigen::Vector2d(x + wide, bottom)}, panels[i].values},
               panels[i]);
  }
  canvas.save();
}

}  // namespace halftool::io
