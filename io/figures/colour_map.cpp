#include "io/figures/colour_map.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

namespace halftool::io {
namespace {

constexpr Rgb from_hex(unsigned hex) {
  return {((hex >> 16) & 255u) / 255.0, ((hex >> 8) & 255u) / 255.0, (hex & 255u) / 255.0};
}

/// Evenly spaced anchors from 0 to 1.
constexpr std::array<Rgb, 6> anchors = {from_hex(0xF8EAC5), from_hex(0xCBC2B0), from_hex(0x9F9B9C),
                                        from_hex(0x747587), from_hex(0x485273), from_hex(0x11325F)};

double to_linear(double c) {
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}
double from_linear(double c) {
  return c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1 / 2.4) - 0.055;
}

Eigen::Matrix3d linear_rgb_to_xyz() {
  return Eigen::Matrix3d{{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}};
}

Eigen::Vector3d white() {
  return linear_rgb_to_xyz().rowwise().sum();
}

constexpr double knee = 6.0 / 29.0;
double lab_root(double t) {
  return t > knee * knee * knee ? std::cbrt(t) : t / (3 * knee * knee) + 4.0 / 29.0;
}
double lab_cube(double f) {
  return f > knee ? f * f * f : 3 * knee * knee * (f - 4.0 / 29.0);
}

}  // namespace

Eigen::Vector3d to_lab(const Rgb& colour) {
  const Eigen::Vector3d linear(to_linear(colour.r), to_linear(colour.g), to_linear(colour.b));
  const Eigen::Vector3d f =
      (linear_rgb_to_xyz() * linear).cwiseQuotient(white()).unaryExpr([](double t) { return lab_root(t); });
  return {116 * f.y() - 16, 500 * (f.x() - f.y()), 200 * (f.y() - f.z())};
}

Rgb from_lab(const Eigen::Vector3d& lab) {
  const double fy = (lab.x() + 16) / 116;
  const Eigen::Vector3d ratio(lab_cube(fy + lab.y() / 500), lab_cube(fy), lab_cube(fy - lab.z() / 200));
  const Eigen::Vector3d linear = linear_rgb_to_xyz().inverse() * ratio.cwiseProduct(white());
  const auto channel = [](double c) { return std::clamp(from_linear(std::max(c, 0.0)), 0.0, 1.0); };
  return {channel(linear.x()), channel(linear.y()), channel(linear.z())};
}

Rgb ramp_colour(double share) {
  if (std::isnan(share)) return no_value;
  const double place = std::clamp(share, 0.0, 1.0) * (anchors.size() - 1);
  const std::size_t below = std::min(static_cast<std::size_t>(place), anchors.size() - 2);
  const double part = place - static_cast<double>(below);
  return from_lab((1 - part) * to_lab(anchors[below]) + part * to_lab(anchors[below + 1]));
}

}  // namespace halftool::io
