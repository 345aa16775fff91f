#include <algorithm>
#include <array>
#include <limits>

#include "benchmarks/verification/results.hpp"
#include "io/figures/canvas.hpp"
#include "io/figures/frame.hpp"
#include "io/figures/plot.hpp"

namespace halftool::verification {
namespace {

constexpr io::Rgb ink{0.10, 0.10, 0.12};
// Told apart by dash as well as by colour.
const std::array<io::Stroke, 4> kLines = {
    io::Stroke{{0.13, 0.30, 0.42}, 2.6, {}}, io::Stroke{{0.62, 0.36, 0.12}, 2.6, {12, 5}},
    io::Stroke{{0.25, 0.50, 0.33}, 2.6, {3, 4}}, io::Stroke{{0.45, 0.42, 0.47}, 2.6, {14, 4, 3, 4}}};

Eigen::AlignedBox2d extent(const Chart& chart) {
  Eigen::AlignedBox2d box;
  for (const Series& series : chart.series)
    for (const Eigen::Vector2d& point : series.points) box.extend(point);
  const Eigen::Vector2d margin = 0.04 * box.sizes().cwiseMax(1e-12);
  return {box.min() - margin, box.max() + margin};
}

const io::Stroke& stroke_of(std::size_t line) {
  return kLines[line % kLines.size()];
}

void draw_series(io::Canvas& canvas, const io::Plot& plot, const Chart& chart) {
  std::size_t line = 0;
  for (const Series& series : chart.series)
    if (!series.is_reference) canvas.line(plot.to_px(series.points), stroke_of(line++));
  for (const Series& series : chart.series)
    if (series.is_reference)
      for (const Eigen::Vector2d& point : series.points) canvas.ring(plot.to_px(point), 5, {ink, 1.8, {}});
}

void draw_key(io::Canvas& canvas, const Chart& chart) {
  double y = 150;
  std::size_t line = 0;
  for (const Series& series : chart.series) {
    if (series.is_reference)
      canvas.ring({1146, y - 6}, 5, {ink, 1.8, {}});
    else
      canvas.line({{1120, y - 6}, {1172, y - 6}}, stroke_of(line++));
    canvas.text({1186, y}, series.label, {.size = 17, .colour = ink});
    y += 32;
  }
}

}  // namespace

void draw_chart(const std::filesystem::path& folder, const Chart& chart, const std::string& source) {
  io::Canvas canvas(folder / (chart.name + ".png"), 1600, 900);
  io::draw_caption(canvas, {chart.title, "", source});
  io::Plot plot;
  plot.place = {Eigen::Vector2d(130, 130), Eigen::Vector2d(1080, 770)};
  plot.values = extent(chart);
  io::draw_axes(canvas, plot, chart.x_title, chart.y_title, {8, 6});
  plot.clip(canvas);
  draw_series(canvas, plot, chart);
  canvas.unclip();
  draw_key(canvas, chart);
  canvas.save();
}

}  // namespace halftool::verification
