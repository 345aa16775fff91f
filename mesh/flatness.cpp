#include "mesh/flatness.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "mesh/blank.hpp"
#include "mesh/outline.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Rotation2Dd;
using Eigen::Vector2d;

constexpr int kWaves = 16;
constexpr double kShortest = 12, kLongest = 100;  // wave lengths over the thickness
// Clearances over the tool, in thicknesses, where the unevenness begins and from where it is whole. It begins
// some elements off the contact, so that the curvature of the last triangle that lies on the tool is none.
constexpr double kFirstClearance = 0.5, kFreeClearance = 2;

// Low-discrepancy sequences: neither directions nor signs repeat from wave to wave or from pattern to
// pattern.
double fraction(double x) {
  return x - std::floor(x);
}
double direction(int wave, int pattern) {
  return 0.5 * std::numbers::pi * fraction(0.6180339887 * wave + 0.4142135624 * pattern);
}
double sign(int wave, int pattern) {
  return fraction(0.7548776662 * wave + 0.5698402910 * pattern) < 0.5 ? -1 : 1;
}

// In the tool's frame.
Vector2d middle_of(const BlankSpec& spec) {
  BlankSpec own = spec;
  own.place.setZero();
  own.turn = 0;
  const PlacedOutline outline = place_outline(own);
  Vector2d middle = Rotation2Dd(spec.turn) * (0.5 * (outline.low + outline.high)) + spec.place;
  if (spec.symmetric_x) middle.x() = 0;
  if (spec.symmetric_y) middle.y() = 0;
  return middle;
}

// The waves' sum, of root mean square 1.
double pattern_at(const Vector2d& x, double thickness, int pattern) {
  double sum = 0;
  for (int wave = 0; wave < kWaves; ++wave) {
    const double share = wave / (kWaves - 1.0);
    const double length = kShortest * thickness * std::pow(kLongest / kShortest, share);
    const double number = 2 * std::numbers::pi / length;
    const double angle = direction(wave, pattern);
    sum += sign(wave, pattern) * std::cos(number * std::cos(angle) * x.x()) *
           std::cos(number * std::sin(angle) * x.y());
  }
  return sum * 2 / std::sqrt(kWaves);
}

double share_off_tool(const ToolSurface& tool, const Eigen::Vector3d& x, double thickness) {
  const auto nearest = tool.nearest(x, std::numeric_limits<double>::infinity());
  if (!nearest) return 1;
  const double clearance = nearest->gap / thickness - 0.5;
  const double share =
      std::clamp((clearance - kFirstClearance) / (kFreeClearance - kFirstClearance), 0.0, 1.0);
  return share * share * (3 - 2 * share);
}

}  // namespace

// With planes of symmetry the waves stand along these, however the outline is turned.
void make_uneven(const BlankSpec& spec, const ToolSurface& tool, Points& nodes) {
  if (spec.rim_held || spec.flatness.amplitude == 0) return;
  const Vector2d middle = middle_of(spec);
  const Rotation2Dd to_own(spec.symmetric_x || spec.symmetric_y ? 0 : -spec.turn);
  const double deviation = spec.flatness.amplitude * spec.thickness / 3;
  for (Eigen::Index i = 0; i < nodes.rows(); ++i) {
    const Eigen::Vector3d x = nodes.row(i);
    nodes(i, 2) += deviation * share_off_tool(tool, x, spec.thickness) *
                   pattern_at(to_own * (x.head<2>() - middle), spec.thickness, spec.flatness.pattern);
  }
}

}  // namespace halftool::mesh
