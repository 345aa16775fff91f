#include "io/figures/canvas.hpp"

#include <cairo-svg.h>
#include <cairo.h>

#include <cmath>
#include <numbers>
#include <utility>

namespace halftool::io {
namespace {

cairo_status_t collect(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

void trace(cairo_t* pen, const Polyline& points, bool closed) {
  cairo_new_path(pen);
  for (const Eigen::Vector2d& p : points) cairo_line_to(pen, p.x(), p.y());
  if (closed) cairo_close_path(pen);
}

/// Cairo names the outermost group by a count of surfaces in the process; nothing refers to it.
void drop_surface_name(std::string& svg) {
  const std::string opening = "<g id=\"surface";
  const std::size_t start = svg.find(opening);
  if (start != std::string::npos) svg.replace(start, svg.find('>', start) - start, "<g");
}

void take_stroke(cairo_t* pen, const Stroke& stroke) {
  cairo_set_source_rgb(pen, stroke.colour.r, stroke.colour.g, stroke.colour.b);
  cairo_set_line_width(pen, stroke.width);
  cairo_set_dash(pen, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0);
}

void take_font(cairo_t* pen, const TextStyle& style) {
  cairo_select_font_face(pen, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         style.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(pen, style.size);
}

}  // namespace

struct Canvas::Data {
  std::string svg;  ///< filled by the surface
  cairo_surface_t* surface = nullptr;
  cairo_t* pen = nullptr;
};

Canvas::Canvas(std::filesystem::path path, int width, int height)
    : path_(std::move(path)), width_(width), height_(height), data_(std::make_unique<Data>()) {
  data_->surface = path_.extension() == ".svg"
                       ? cairo_svg_surface_create_for_stream(collect, &data_->svg, width, height)
                       : cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height);
  data_->pen = cairo_create(data_->surface);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);  // so that PNG and SVG agree
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(data_->pen, options);
  cairo_font_options_destroy(options);
  cairo_set_line_join(data_->pen, CAIRO_LINE_JOIN_ROUND);
  cairo_set_source_rgb(data_->pen, 1, 1, 1);
  cairo_paint(data_->pen);
}

Canvas::~Canvas() {
  cairo_destroy(data_->pen);
  cairo_surface_destroy(data_->surface);
}

void Canvas::lay(const Image& image) {
  cairo_surface_t* layer = cairo_image_surface_create(CAIRO_FORMAT_RGB24, image.width, image.height);
  unsigned char* rows = cairo_image_surface_get_data(layer);
  const int stride = cairo_image_surface_get_stride(layer);
  for (int y = 0; y < image.height; ++y)
    for (int x = 0; x < image.width; ++x) {
      const std::uint8_t* from = &image.rgb[3 * (static_cast<std::size_t>(y) * image.width + x)];
      auto* to = reinterpret_cast<std::uint32_t*>(rows + static_cast<std::ptrdiff_t>(y) * stride) + x;
      *to = (std::uint32_t{from[0]} << 16) | (std::uint32_t{from[1]} << 8) | from[2];
    }
  cairo_surface_mark_dirty(layer);
  cairo_set_source_surface(data_->pen, layer, 0, 0);
  cairo_paint(data_->pen);
  cairo_surface_destroy(layer);
}

void Canvas::line(const Polyline& points, const Stroke& stroke, bool closed) {
  trace(data_->pen, points, closed);
  take_stroke(data_->pen, stroke);
  cairo_stroke(data_->pen);
}

void Canvas::fill(const Polyline& polygon, const Rgb& colour, double opacity) {
  trace(data_->pen, polygon, true);
  cairo_set_source_rgba(data_->pen, colour.r, colour.g, colour.b, opacity);
  cairo_fill(data_->pen);
}

void Canvas::hatch(const Polyline& polygon, const Stroke& stroke, double spacing, double turn) {
  cairo_t* pen = data_->pen;
  cairo_save(pen);
  trace(pen, polygon, true);
  cairo_clip(pen);
  const Eigen::Vector2d along(std::cos(turn), -std::sin(turn));
  const Eigen::Vector2d across(along.y(), -along.x());
  const double reach = width_ + height_;
  take_stroke(pen, stroke);
  cairo_new_path(pen);
  const int most = static_cast<int>(reach / spacing);
  for (int k = -most; k <= most; ++k) {
    const Eigen::Vector2d a = k * spacing * across - reach * along;
    const Eigen::Vector2d b = k * spacing * across + reach * along;
    cairo_move_to(pen, a.x(), a.y());
    cairo_line_to(pen, b.x(), b.y());
  }
  cairo_stroke(pen);
  cairo_restore(pen);
}

void Canvas::disc(const Eigen::Vector2d& centre, double radius, const Rgb& colour) {
  cairo_new_path(data_->pen);
  cairo_arc(data_->pen, centre.x(), centre.y(), radius, 0, 2 * std::numbers::pi);
  cairo_set_source_rgb(data_->pen, colour.r, colour.g, colour.b);
  cairo_fill(data_->pen);
}

void Canvas::ring(const Eigen::Vector2d& centre, double radius, const Stroke& stroke) {
  cairo_new_path(data_->pen);
  cairo_arc(data_->pen, centre.x(), centre.y(), radius, 0, 2 * std::numbers::pi);
  take_stroke(data_->pen, stroke);
  cairo_stroke(data_->pen);
}

double Canvas::text_width(const std::string& words, const TextStyle& style) const {
  take_font(data_->pen, style);
  cairo_text_extents_t extents;
  cairo_text_extents(data_->pen, words.c_str(), &extents);
  return extents.x_advance;
}

void Canvas::text(const Eigen::Vector2d& at, const std::string& words, const TextStyle& style) {
  cairo_t* pen = data_->pen;
  const double width = text_width(words, style);
  const double share = style.anchor == Anchor::left ? 0.0 : style.anchor == Anchor::centre ? 0.5 : 1.0;
  cairo_save(pen);
  cairo_translate(pen, at.x(), at.y());
  cairo_rotate(pen, -style.turn);
  cairo_move_to(pen, -share * width, 0);
  cairo_set_source_rgb(pen, style.colour.r, style.colour.g, style.colour.b);
  cairo_show_text(pen, words.c_str());
  cairo_restore(pen);
}

void Canvas::clip(const Eigen::Vector2d& top_left, const Eigen::Vector2d& bottom_right) {
  cairo_save(data_->pen);
  cairo_rectangle(data_->pen, top_left.x(), top_left.y(), bottom_right.x() - top_left.x(),
                  bottom_right.y() - top_left.y());
  cairo_clip(data_->pen);
}

void Canvas::unclip() {
  cairo_restore(data_->pen);
}

void Canvas::save() {
  const bool is_svg = path_.extension() == ".svg";
  std::string bytes;
  cairo_status_t status = cairo_status(data_->pen);
  if (status == CAIRO_STATUS_SUCCESS && is_svg) {
    cairo_surface_finish(data_->surface);
    status = cairo_surface_status(data_->surface);
    bytes.swap(data_->svg);
    drop_surface_name(bytes);
  } else if (status == CAIRO_STATUS_SUCCESS) {
    status = cairo_surface_write_to_png_stream(data_->surface, collect, &bytes);
  }
  if (status != CAIRO_STATUS_SUCCESS) throw WriteError(path_, cairo_status_to_string(status));
  write_file(path_, bytes);
}

Polyline rectangle(double left, double top, double right, double bottom) {
  return {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
}

}  // namespace halftool::io
