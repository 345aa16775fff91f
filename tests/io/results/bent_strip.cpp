#include "tests/io/results/bent_strip.hpp"

#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

namespace halftool::io::test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double top_length = 60;  ///< from the held end to the bend [mm]
constexpr double strip_width = 50;
constexpr double block_height = 35;
constexpr double flange = 20;

/// Nodes of an along x across grid over the unit square, split into triangles.
mesh::Triangles grid_triangles(int along, int across) {
  mesh::Triangles triangles(2 * along * across, 3);
  int t = 0;
  for (int i = 0; i < along; ++i)
    for (int j = 0; j < across; ++j) {
      const int a = i * (across + 1) + j;
      const int b = a + across + 1;
      triangles.row(t++) << a, b, b + 1;
      triangles.row(t++) << a, b + 1, a + 1;
    }
  return triangles;
}

/// Middle line of the strip: flat, arc of the given radius through `angle`, straight; at length s from its
/// start.
Eigen::Vector2d middle_line(double s, double radius, double angle, double z) {
  if (s <= top_length) return {s, z};
  const double turned = (s - top_length) / radius;
  if (turned <= angle) return {top_length + radius * std::sin(turned), z - radius * (1 - std::cos(turned))};
  const double rest = s - top_length - radius * angle;
  return {top_length + radius * std::sin(angle) + rest * std::cos(angle),
          z - radius * (1 - std::cos(angle)) - rest * std::sin(angle)};
}

mesh::Points place_strip(int along, int across, double radius, double angle, double arc, double z) {
  const double length = top_length + arc + flange;
  mesh::Points points((along + 1) * (across + 1), 3);
  for (int i = 0; i <= along; ++i)
    for (int j = 0; j <= across; ++j) {
      const double y = strip_width * (static_cast<double>(j) / across - 0.5);
      const Eigen::Vector2d xz = middle_line(length * i / along, radius, angle, z);
      points.row(i * (across + 1) + j) << xz.x(), y, xz.y();
    }
  return points;
}

void invent_fields(solver::SheetFields& f, const mesh::Points& flat, double t0, double radius,
                   double pressure) {
  const mesh::Triangles& triangles = f.triangles;
  const Eigen::Index n = triangles.rows();
  f.pressure = pressure;
  f.displacement = f.positions - flat;
  for (Eigen::VectorXd* field :
       {&f.thickness, &f.thinning, &f.plastic_mid, &f.plastic_outer, &f.plastic_inner, &f.von_mises_outer,
        &f.von_mises_inner, &f.fluid_pressure, &f.contact_pressure, &f.gap, &f.limit_share, &f.path_share,
        &f.wrinkling, &f.edge_share})
    field->resize(n);
  for (Eigen::MatrixX2d* field :
       {&f.strain_mid, &f.strain_outer, &f.strain_inner, &f.stress_mid, &f.face_share, &f.face_kind})
    field->resize(n, 2);
  const double bend_start = top_length;
  const double bend_end = top_length + (radius + t0 / 2) * pi / 2;
  for (Eigen::Index t = 0; t < n; ++t) {
    const Eigen::Vector3d centre =
        (flat.row(triangles(t, 0)) + flat.row(triangles(t, 1)) + flat.row(triangles(t, 2))) / 3;
    const double off = (centre.x() - 0.5 * (bend_start + bend_end)) / 5.0;
    const double hump = std::exp(-off * off);
    const double side = 2 * centre.y() / strip_width;
    const double edge = std::pow(std::abs(side), 6);
    const double major = 0.004 + (0.20 + 0.05 * std::cos(2 * side)) * hump;
    const double minor = -0.35 * major * edge + 0.03 * hump * (1 - edge);
    const bool bent = centre.x() > bend_start && centre.x() < bend_end;
    const double bending = bent ? t0 / 2 / (radius + t0 / 2) : 0.0;
    f.strain_mid.row(t) << major, minor;
    f.strain_outer.row(t) << major + bending, minor;
    f.strain_inner.row(t) << std::max(minor, major - bending), std::min(minor, major - bending);
    f.thinning(t) = 1 - std::exp(-(major + minor));
    f.thickness(t) = t0 * (1 - f.thinning(t));
    f.plastic_mid(t) = 1.1 * major;
    f.plastic_outer(t) = 1.1 * (major + bending);
    f.plastic_inner(t) = 1.1 * std::abs(major - bending);
    f.von_mises_outer(t) = 60 + 90 * std::sqrt(f.plastic_outer(t));
    f.von_mises_inner(t) = 60 + 90 * std::sqrt(f.plastic_inner(t));
    f.fluid_pressure(t) = pressure;
    f.contact_pressure(t) = pressure * (bent ? 1.3 : 1.0);
    f.gap(t) = centre.x() > bend_end + 15 ? std::numeric_limits<double>::quiet_NaN() : -0.001;
    f.stress_mid.row(t) << 100 * major, 100 * minor;
    f.face_share.row(t) << major, minor;
    f.face_kind.row(t) << static_cast<double>(t % 6), 1;
    f.path_share(t) = 2 * major;
    f.wrinkling(t) = 0.001 * static_cast<double>(t);
    f.edge_share(t) = 0.01 * static_cast<double>(t);
    f.limit_share(t) = major / (0.25 + (minor > 0 ? 0.55 : -1.0) * minor);
  }
}

/// The block, its edge rounded, with a floor beyond it, as one sheet of triangles; open at the sides.
mesh::SurfaceMesh make_block(double radius) {
  std::vector<Eigen::Vector2d> profile = {{0, block_height}};
  for (int i = 0; i <= 15; ++i) {
    const double a = pi / 2 * i / 15;
    profile.emplace_back(top_length + radius * std::sin(a), block_height - radius * (1 - std::cos(a)));
  }
  profile.emplace_back(top_length + radius, 0);
  profile.emplace_back(top_length + 45, 0);
  const int last = static_cast<int>(profile.size()) - 1;
  mesh::SurfaceMesh tool;
  tool.triangles = grid_triangles(last, 1);
  tool.nodes.resize(2 * (last + 1), 3);
  for (int i = 0; i <= last; ++i)
    for (int j = 0; j < 2; ++j)
      tool.nodes.row(2 * i + j) << profile[static_cast<std::size_t>(i)].x(), (j == 0 ? -40.0 : 40.0),
          profile[static_cast<std::size_t>(i)].y();
  return tool;
}

}  // namespace

BentStrip make_bent_strip(int along, int across) {
  BentStrip strip;
  strip.formed.triangles = strip.released.triangles = grid_triangles(along, across);
  const double mid_radius = strip.radius + strip.thickness / 2;
  const double arc = mid_radius * pi / 2;
  const double z = block_height + strip.thickness / 2;
  const mesh::Points flat = place_strip(along, across, mid_radius, 0, arc, z);
  strip.formed.positions = place_strip(along, across, mid_radius, pi / 2, arc, z);
  const double open = pi / 2 - strip.opening;
  strip.released.positions = place_strip(along, across, arc / open, open, arc, z);
  invent_fields(strip.formed, flat, strip.thickness, strip.radius, 100);
  invent_fields(strip.released, flat, strip.thickness, strip.radius, 0);
  strip.released.contact_pressure.setZero();
  strip.tool = make_block(strip.radius);
  return strip;
}

}  // namespace halftool::io::test
