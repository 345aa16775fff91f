#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "io/figures/colour_map.hpp"
#include "io/figures/image.hpp"
#include "io/results/write_file.hpp"

namespace halftool::io {

using Polyline = std::vector<Eigen::Vector2d>;  ///< [px]

struct Stroke {
  Rgb colour;
  double width = 1.5;        ///< [px]
  std::vector<double> dash;  ///< lengths on, off, ... [px]; empty: solid
};

enum class Anchor { left, centre, right };

struct TextStyle {
  double size = 18;  ///< [px]
  bool bold = false;
  Rgb colour;
  Anchor anchor = Anchor::left;
  double turn = 0;  ///< counter-clockwise [rad]
};

/// A white sheet to draw on, in pixels from the top left, saved as PNG or SVG by the file's extension.
/// Needs no display. The same drawing gives the same bytes.
class Canvas {
 public:
  Canvas(std::filesystem::path path, int width, int height);
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] int height() const { return height_; }

  /// Lays a picture of the canvas' own size under what follows.
  void lay(const Image& image);
  void line(const Polyline& points, const Stroke& stroke, bool closed = false);
  void fill(const Polyline& polygon, const Rgb& colour, double opacity = 1);
  /// Parallel lines inside a polygon, in step with those of every other polygon of the same spacing and turn.
  void hatch(const Polyline& polygon, const Stroke& stroke, double spacing, double turn);
  void disc(const Eigen::Vector2d& centre, double radius, const Rgb& colour);
  void ring(const Eigen::Vector2d& centre, double radius, const Stroke& stroke);
  /// @param at  of the baseline, at its left, middle or right end as the style says
  void text(const Eigen::Vector2d& at, const std::string& words, const TextStyle& style);
  [[nodiscard]] double text_width(const std::string& words, const TextStyle& style) const;
  /// Limits what follows to a rectangle until unclip.
  void clip(const Eigen::Vector2d& top_left, const Eigen::Vector2d& bottom_right);
  void unclip();

  /// Writes the file.
  /// @throws WriteError
  void save();

 private:
  struct Data;
  std::filesystem::path path_;
  int width_;
  int height_;
  std::unique_ptr<Data> data_;
};

/// The corners of an upright rectangle.
Polyline rectangle(double left, double top, double right, double bottom);

}  // namespace halftool::io
