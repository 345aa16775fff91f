#include "io/figures/plot.hpp"

#include <numbers>

#include "io/figures/frame.hpp"

namespace halftool::io {
namespace {

constexpr Rgb ink{0.10, 0.10, 0.12};
constexpr Rgb grid{0.88, 0.88, 0.89};

}  // namespace

Eigen::Vector2d Plot::to_px(const Eigen::Vector2d& value) const {
  const Eigen::Vector2d share = (value - values.min()).cwiseQuotient(values.sizes());
  return {place.min().x() + share.x() * place.sizes().x(), place.max().y() - share.y() * place.sizes().y()};
}

Polyline Plot::to_px(const std::vector<Eigen::Vector2d>& line) const {
  Polyline px;
  for (const Eigen::Vector2d& value : line) px.push_back(to_px(value));
  return px;
}

Polyline Plot::to_px(const Eigen::MatrixX2d& line) const {
  Polyline px;
  for (Eigen::Index i = 0; i < line.rows(); ++i) px.push_back(to_px(Eigen::Vector2d(line.row(i))));
  return px;
}

void draw_axes(Canvas& canvas, const Plot& plot, const std::string& x_title, const std::string& y_title,
               const Eigen::Vector2i& wanted) {
  const Eigen::Vector2d low = plot.place.min(), high = plot.place.max();
  for (int axis = 0; axis < 2; ++axis) {
    const double from = plot.values.min()(axis), to = plot.values.max()(axis);
    const std::vector<double> values = ticks(from, to, wanted(axis));
    const double spacing = values[1] - values[0];
    for (const double value : values) {
      if (value < from - 1e-9 * spacing || value > to + 1e-9 * spacing) continue;
      const Eigen::Vector2d px = plot.to_px(axis == 0 ? Eigen::Vector2d(value, plot.values.min().y())
                                                      : Eigen::Vector2d(plot.values.min().x(), value));
      const TextStyle style{.size = 18, .colour = ink, .anchor = axis == 0 ? Anchor::centre : Anchor::right};
      if (axis == 0) {
        canvas.line({{px.x(), low.y()}, {px.x(), high.y()}}, {grid, 1, {}});
        canvas.text({px.x(), high.y() + 26}, tick_label(value, spacing), style);
      } else {
        canvas.line({{low.x(), px.y()}, {high.x(), px.y()}}, {grid, 1, {}});
        canvas.text({low.x() - 10, px.y() + 6}, tick_label(value, spacing), style);
      }
    }
  }
  canvas.line(rectangle(low.x(), low.y(), high.x(), high.y()), {ink, 1.3, {}}, true);
  const TextStyle title{.size = 20, .bold = true, .colour = ink, .anchor = Anchor::centre};
  canvas.text({plot.place.center().x(), high.y() + 58}, x_title, title);
  TextStyle upright = title;
  upright.turn = std::numbers::pi / 2;
  canvas.text({low.x() - 72, plot.place.center().y()}, y_title, upright);
}

}  // namespace halftool::io
