#pragma once
#include <Eigen/Core>
#include <array>
#include <filesystem>
#include <string>
#include <vector>

#include "io/figures/frame.hpp"
#include "solver/assessment/forming_limit.hpp"

namespace halftool::io {

/// A forming-limit curve as it is to be drawn.
struct LimitCurve {
  std::vector<Eigen::Vector2d> points;          ///< (minor, major) true strain, minor rising
  std::vector<Eigen::Vector2d> measured = {};   ///< of these, the measured ones
  std::vector<Eigen::Vector2d> unpressed = {};  ///< drawn beside it: the curve without a normal pressure
  std::string name;                             ///< "estimated from hardening and thickness"
  /// Engineering major strain that the margin line keeps below the curve; common practice of the trade.
  double margin = 0.10;
};

/// The curve of a forming limit for minor strains from -0.5 to 0.5, or between its points.
LimitCurve sample_limit(const solver::FormingLimit& limit, const std::string& name);

/// How close to the forming limit, from far to past.
enum class Band { roomy, worked, close, over };
inline constexpr std::array<const char*, 4> band_names = {"Roomy", "Worked", "Close", "Over"};

/// The margin line: the curve, lowered by the margin in engineering strain. Points that fall below zero are
/// left out.
std::vector<Eigen::Vector2d> margin_line(const LimitCurve& curve);

/// The band of a strain state along the straight path from the origin: over beyond the curve, close beyond
/// the margin line, worked within 0.15 of limit share before it. A path that meets no line is roomy.
/// @param strain  major, minor true strain
Band band_of(const LimitCurve& curve, const Eigen::Vector2d& strain);

struct LimitChart {
  Caption caption;
  Eigen::MatrixX2d strains;     ///< (n_triangles, 2) major, minor true strain of the mid-surface
  Eigen::VectorXd limit_share;  ///< (n_triangles)
  Eigen::VectorXd areas;        ///< (n_triangles) [mm2]
  LimitCurve curve;
};

/// Strains of all triangles against the forming limit, with the bands by area. PNG or SVG by the extension,
/// 1600 x 1000. Needs no display.
/// @throws WriteError
void draw_limit_chart(const std::filesystem::path& path, const LimitChart& chart);

}  // namespace halftool::io
