#pragma once
#include <Eigen/Core>
#include <Eigen/Geometry>
#include <string>
#include <vector>

#include "io/figures/canvas.hpp"

namespace halftool::io {

/// The words around a picture.
struct Caption {
  std::string title;
  std::string subtitle;    ///< the finding in one line
  std::string credential;  ///< where the numbers behind the picture come from, along the foot
};

/// Draws title, subtitle and credential (wrapped if long).
void draw_caption(Canvas& canvas, const Caption& caption);

/// Lines of words no wider than `width` [px]; a word that is wider stands alone.
std::vector<std::string> wrapped(const Canvas& canvas, const std::string& words, const TextStyle& style,
                                 double width);

/// Round numbers at a spacing of 1, 2 or 5 times a power of ten that cover [low, high], about `wanted` steps.
/// @pre low < high
std::vector<double> ticks(double low, double high, int wanted);

/// A number at the least number of decimals that tells the ticks apart.
std::string tick_label(double value, double spacing);

/// A scale from low to high with its colours, at the right of a picture.
struct ColourBar {
  std::string title;  ///< with the unit
  std::vector<double> ticks;
  bool shows_over = false;  ///< add a swatch for places over the forming limit
};
void draw_colour_bar(Canvas& canvas, const ColourBar& bar, const Eigen::AlignedBox2d& place);

/// A swatch of over_colour under its cross hatch.
void draw_over_swatch(Canvas& canvas, const Polyline& outline);

/// A dark mark that shows on any ground, around a place.
void draw_mark(Canvas& canvas, const Eigen::Vector2d& at);

/// Words in a box of white, to the right of a place, so that they can be read on any ground.
void draw_label(Canvas& canvas, const Eigen::Vector2d& at, const std::string& words);

}  // namespace halftool::io
