#include "io/figures/frame.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

namespace halftool::io {
namespace {

constexpr Rgb ink{0.10, 0.10, 0.12};
constexpr Rgb soft_ink{0.30, 0.30, 0.33};
constexpr double margin = 44;  ///< [px]

/// The style, smaller if the words would not fit.
TextStyle shrink(const Canvas& canvas, const std::string& words, TextStyle style, double width) {
  const double needed = canvas.text_width(words, style);
  if (needed > width) style.size *= width / needed;
  return style;
}

}  // namespace

std::vector<std::string> wrapped(const Canvas& canvas, const std::string& words, const TextStyle& style,
                                 double width) {
  std::vector<std::string> lines;
  std::istringstream in(words);
  std::string line;
  for (std::string word; in >> word;) {
    const std::string longer = line.empty() ? word : fmt::format("{} {}", line, word);
    if (!line.empty() && canvas.text_width(longer, style) > width) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

void draw_caption(Canvas& canvas, const Caption& caption) {
  const double width = canvas.width() - 2 * margin;
  const TextStyle title{.size = 32, .bold = true, .colour = ink};
  canvas.text({margin, 62}, caption.title, shrink(canvas, caption.title, title, width));
  const TextStyle subtitle{.size = 21, .colour = soft_ink};
  canvas.text({margin, 98}, caption.subtitle, shrink(canvas, caption.subtitle, subtitle, width));
  TextStyle foot{.size = 16, .colour = soft_ink};
  std::vector<std::string> lines = wrapped(canvas, caption.credential, foot, width);
  for (; lines.size() > 2 && foot.size > 6; lines = wrapped(canvas, caption.credential, foot, width))
    foot.size -= 0.5;  // there is room for two lines
  double y = canvas.height() - 20 - 22 * (static_cast<double>(lines.size()) - 1);
  canvas.line({{margin, y - 26}, {canvas.width() - margin, y - 26}}, {{0.8, 0.8, 0.8}, 1, {}});
  for (const std::string& line : lines) {
    canvas.text({margin, y}, line, shrink(canvas, line, foot, width));
    y += 22;
  }
}

std::vector<double> ticks(double low, double high, int wanted) {
  const double rough = (high - low) / wanted;
  const double decade = std::pow(10, std::floor(std::log10(rough)));
  double spacing = 10 * decade;
  for (const double step : {5.0, 2.0, 1.0})
    if (step * decade >= rough * (1 - 1e-9)) spacing = step * decade;
  std::vector<double> values;
  const double first = std::floor(low / spacing + 1e-9);
  const double last = std::ceil(high / spacing - 1e-9);
  for (double k = first; k <= last; ++k) values.push_back(k * spacing);
  return values;
}

std::string tick_label(double value, double spacing) {
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(spacing) - 1e-9)));
  if (std::abs(value) < 0.5 * spacing) value = 0;  // no minus zero
  return fmt::format("{:.{}f}", value, decimals);
}

void draw_over_swatch(Canvas& canvas, const Polyline& outline) {
  canvas.fill(outline, over_colour);
  for (const double turn : {0.25, 0.75})
    canvas.hatch(outline, {over_hatch_colour, 1.8, {}}, 9.9, turn * std::numbers::pi);
}

void draw_colour_bar(Canvas& canvas, const ColourBar& bar, const Eigen::AlignedBox2d& place) {
  const double left = place.min().x(), right = place.max().x();
  const double top = place.min().y(), bottom = place.max().y();
  // Steps overlap by a pixel so that no seam of the background shows.
  const int n_steps = 128;
  const double step = (bottom - top) / n_steps;
  for (int i = 0; i < n_steps; ++i) {
    const double y = bottom - i * step;
    canvas.fill(rectangle(left, std::max(top, y - step - (i + 1 < n_steps ? 1 : 0)), right, y),
                ramp_colour((i + 0.5) / n_steps));
  }
  canvas.line(rectangle(left, top, right, bottom), {ink, 1.2, {}}, true);
  const TextStyle style{.size = 19, .colour = ink};
  const double low = bar.ticks.front(), high = bar.ticks.back();
  const double spacing = bar.ticks[1] - bar.ticks[0];
  for (const double value : bar.ticks) {
    const double y = bottom - (value - low) / (high - low) * (bottom - top);
    canvas.line({{right, y}, {right + 7, y}}, {ink, 1.2, {}});
    canvas.text({right + 13, y + 7}, tick_label(value, spacing), style);
  }
  canvas.text({left, top - 22}, bar.title, {.size = 19, .bold = true, .colour = ink});
  if (!bar.shows_over) return;
  const Polyline swatch = rectangle(left, bottom + 26, right, bottom + 26 + (right - left));
  draw_over_swatch(canvas, swatch);
  canvas.line(swatch, {ink, 1.2, {}}, true);
  canvas.text({right + 13, bottom + 40}, "over the", style);
  canvas.text({right + 13, bottom + 62}, "forming limit", style);
}

void draw_mark(Canvas& canvas, const Eigen::Vector2d& at) {
  canvas.ring(at, 11, {{1, 1, 1}, 6, {}});
  canvas.ring(at, 11, {ink, 2.5, {}});
}

void draw_label(Canvas& canvas, const Eigen::Vector2d& at, const std::string& words) {
  const TextStyle style{.size = 18, .colour = ink};
  const double width = canvas.text_width(words, style);
  // Left of the place where the right edge is near.
  const double left = at.x() + 20 + width + 16 > canvas.width() ? at.x() - 36 - width : at.x() + 20;
  canvas.fill(rectangle(left, at.y() - 15, left + width + 16, at.y() + 15), {1, 1, 1}, 0.85);
  canvas.text({left + 8, at.y() + 6}, words, style);
}

}  // namespace halftool::io
