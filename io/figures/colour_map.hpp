#pragma once
#include <Eigen/Core>

namespace halftool::io {

/// sRGB, each of red, green, blue from 0 to 1.
struct Rgb {
  double r = 0, g = 0, b = 0;
};

/// The one ramp of every picture, pale for 0 to dark for 1: six anchors, linear in CIELAB between them,
/// lightness falling steadily, so that it also reads in grey and with deficient colour vision.
/// @param share  0 to 1; beyond, the end colours; NaN gives `no_value`
Rgb ramp_colour(double share);

/// Beyond the forming limit: black under a white cross hatch.
inline constexpr Rgb over_colour{0, 0, 0};
inline constexpr Rgb over_hatch_colour{1, 1, 1};
/// Where a field has no value.
inline constexpr Rgb no_value{0.93, 0.93, 0.93};

/// CIELAB (L*, a*, b*) under D65, and back. Sources: IEC 61966-2-1 (sRGB), CIE 15 (CIELAB).
Eigen::Vector3d to_lab(const Rgb& colour);
Rgb from_lab(const Eigen::Vector3d& lab);

}  // namespace halftool::io
