#include "io/figures/section_picture.hpp"

#include <algorithm>
#include <numbers>

#include "io/figures/plot.hpp"

namespace halftool::io {
namespace {

constexpr int width = 1600;
constexpr double left = 130, right = 1556, top = 178, foot = 160;  ///< borders of the plot [px]
constexpr double lowest_plot = 380, highest_plot = 720;            ///< [px]
constexpr Rgb tool_ground{0.955, 0.955, 0.96};
constexpr Rgb tool_ink{0.50, 0.51, 0.53};
const Stroke tool_line{tool_ink, 2.0, {}};
const Stroke tool_hatch{{0.74, 0.75, 0.77}, 1.1, {}};
constexpr double hatch_spacing = 11, hatch_turn = std::numbers::pi / 4;

Rgb formed_colour() {
  return ramp_colour(0.22);
}
Stroke formed_line() {
  return {ramp_colour(0.55), 1.2, {}};
}
Stroke released_line() {
  return {ramp_colour(1.0), 2.4, {}};
}

/// Values shown: the sections with a border, stretched to the plot's shape so that both axes have one scale.
Plot make_plot(const std::vector<Eigen::MatrixX2d>& formed, const std::vector<Eigen::MatrixX2d>& released) {
  Eigen::AlignedBox2d box;
  for (const auto* bands : {&formed, &released})
    for (const Eigen::MatrixX2d& band : *bands)
      for (Eigen::Index i = 0; i < band.rows(); ++i) box.extend(Eigen::Vector2d(band.row(i)));
  if (box.isEmpty()) box.extend(Eigen::Vector2d(0, 0));
  const double border = std::max(0.06 * box.sizes().maxCoeff(), 1e-3);
  Eigen::AlignedBox2d values(Eigen::Vector2d(box.min().array() - border),
                             Eigen::Vector2d(box.max().array() + border));
  const double plot_width = right - left;
  const double plot_height =
      std::clamp(plot_width * values.sizes().y() / values.sizes().x(), lowest_plot, highest_plot);
  const double scale = std::max(values.sizes().x() / plot_width, values.sizes().y() / plot_height);
  const Eigen::Vector2d half = 0.5 * scale * Eigen::Vector2d(plot_width, plot_height);
  const Eigen::Vector2d middle = values.center();
  return {{Eigen::Vector2d(left, top), Eigen::Vector2d(right, top + plot_height)},
          {middle - half, middle + half}};
}

/// Fills the tool below its outline; an open outline is closed under the picture.
void draw_tool(Canvas& canvas, const Plot& plot, const std::vector<CutLine>& lines) {
  const double under = plot.place.max().y() + 50;
  std::vector<Polyline> outlines, bodies;
  for (const CutLine& line : lines) {
    outlines.push_back(plot.to_px(Eigen::MatrixX2d(line.points.leftCols<2>())));
    Polyline body = outlines.back();
    if (!line.closed) {
      body.push_back({body.back().x(), under});
      body.push_back({body.front().x(), under});
    }
    bodies.push_back(std::move(body));
  }
  for (const Polyline& body : bodies) canvas.fill(body, tool_ground);
  for (const Polyline& body : bodies) canvas.hatch(body, tool_hatch, hatch_spacing, hatch_turn);
  for (std::size_t i = 0; i < lines.size(); ++i) canvas.line(outlines[i], tool_line, lines[i].closed);
}

void draw_legend(Canvas& canvas, const SectionPicture& picture) {
  double x = left;
  const double y = top - 40;
  const auto entry = [&](const std::string& words, const auto& draw) {
    const Polyline swatch = rectangle(x, y, x + 44, y + 20);
    draw(swatch);
    const TextStyle style{.size = 19, .colour = {0.10, 0.10, 0.12}};
    canvas.text({x + 56, y + 17}, words, style);
    x += 56 + canvas.text_width(words, style) + 44;
  };
  entry("formed, at full pressure", [&](const Polyline& swatch) {
    canvas.fill(swatch, formed_colour());
    canvas.line(swatch, formed_line(), true);
  });
  if (picture.released != nullptr)
    entry("released", [&](const Polyline& swatch) { canvas.line(swatch, released_line(), true); });
  if (picture.tool != nullptr)
    entry("tool half", [&](const Polyline& swatch) {
      canvas.fill(swatch, tool_ground);
      canvas.hatch(swatch, tool_hatch, hatch_spacing, hatch_turn);
      canvas.line(swatch, tool_line, true);
    });
}

}  // namespace

void draw_section_picture(const std::filesystem::path& path, const SectionPicture& picture) {
  const auto formed = cut_sheet(*picture.formed, picture.plane);
  const auto released = picture.released != nullptr ? cut_sheet(*picture.released, picture.plane)
                                                    : std::vector<Eigen::MatrixX2d>{};
  const Plot plot = make_plot(formed, released);
  Canvas canvas(path, width, static_cast<int>(plot.place.max().y() + foot));
  draw_caption(canvas, picture.caption);
  draw_legend(canvas, picture);
  const int across = 12;
  const int upward = std::max(3, static_cast<int>(across * plot.place.sizes().y() / plot.place.sizes().x()));
  draw_axes(canvas, plot, picture.plane.axis == 1 ? "x [mm]" : "y [mm]", "z [mm]", {across, upward});
  plot.clip(canvas);
  if (picture.tool != nullptr)
    draw_tool(canvas, plot,
              cut_surface(picture.tool->nodes, picture.tool->triangles, picture.plane,
                          Eigen::MatrixXd(picture.tool->nodes.rows(), 0)));
  for (const Eigen::MatrixX2d& band : formed) {
    canvas.fill(plot.to_px(band), formed_colour());
    canvas.line(plot.to_px(band), formed_line(), true);
  }
  for (const Eigen::MatrixX2d& band : released) canvas.line(plot.to_px(band), released_line(), true);
  canvas.unclip();
  canvas.line(
      rectangle(plot.place.min().x(), plot.place.min().y(), plot.place.max().x(), plot.place.max().y()),
      {{0.10, 0.10, 0.12}, 1.3, {}}, true);
  canvas.save();
}

}  // namespace halftool::io
