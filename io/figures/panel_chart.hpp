#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <string>
#include <vector>

#include "io/figures/frame.hpp"

namespace halftool::io {

/// A line of a chart with its name in the legend.
struct ChartLine {
  std::string name;
  std::vector<Eigen::Vector2d> points;
};

/// One of the plots that stand side by side.
struct ChartPanel {
  std::string heading;
  std::string x_title;
  std::string y_title;
  std::vector<ChartLine> lines = {};  ///< told apart by dashes and shade, so that a grey print shows them
  std::vector<Eigen::Vector2d> points = {};  ///< measured, drawn as rings
  std::string points_name = {};              ///< in the legend
  Eigen::AlignedBox2d values = {};           ///< shown
};

/// Draws one or two panels. PNG or SVG by the extension, 1600 x 900. Needs no display.
/// @throws WriteError
void draw_panel_chart(const std::filesystem::path& path, const Caption& caption,
                      const std::vector<ChartPanel>& panels);

/// From zero (or the least value) to what holds all values, ended on round numbers.
Eigen::AlignedBox2d chart_values(const std::vector<ChartLine>& lines,
                                 const std::vector<Eigen::Vector2d>& points);

}  // namespace halftool::io
