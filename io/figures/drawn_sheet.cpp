#include "io/figures/drawn_sheet.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "io/results/nodal_average.hpp"

namespace halftool::io {
namespace {

Eigen::VectorXd twice(const Eigen::VectorXd& values) {
  Eigen::VectorXd both(2 * values.size());
  both << values, values;
  return both;
}

}  // namespace

std::vector<std::pair<int, int>> border_edges(const mesh::Triangles& triangles) {
  std::map<std::pair<int, int>, int> count;
  const auto key = [](int a, int b) { return std::pair(std::min(a, b), std::max(a, b)); };
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    for (int i = 0; i < 3; ++i) ++count[key(triangles(t, i), triangles(t, (i + 1) % 3))];
  std::vector<std::pair<int, int>> edges;
  for (Eigen::Index t = 0; t < triangles.rows(); ++t)
    for (int i = 0; i < 3; ++i) {
      const int a = triangles(t, i), b = triangles(t, (i + 1) % 3);
      if (count[key(a, b)] == 1) edges.emplace_back(a, b);
    }
  return edges;
}

Eigen::VectorXd larger_shares(const solver::SheetFields& fields) {
  Eigen::VectorXd shares = fields.limit_share;
  for (Eigen::Index t = 0; t < std::min(shares.size(), fields.path_share.size()); ++t)
    shares(t) = std::fmax(shares(t), fields.path_share(t));  // of one number and one that is none: the number
  return shares;
}

DrawnSheet take_sheet(const solver::SheetFields& fields) {
  return {fields.triangles, fields.positions, fields.thickness, fields.thinning, larger_shares(fields)};
}

DrawnSheet mirrored(const DrawnSheet& sheet, int axis, double tolerance) {
  const int n_nodes = static_cast<int>(sheet.positions.rows());
  std::vector<int> image(static_cast<std::size_t>(n_nodes));
  int n_all = n_nodes;
  for (int n = 0; n < n_nodes; ++n)
    image[static_cast<std::size_t>(n)] = std::abs(sheet.positions(n, axis)) <= tolerance ? n : n_all++;
  DrawnSheet whole;
  whole.positions.resize(n_all, 3);
  whole.positions.topRows(n_nodes) = sheet.positions;
  for (int n = 0; n < n_nodes; ++n) {
    const int m = image[static_cast<std::size_t>(n)];
    if (m == n) continue;
    whole.positions.row(m) = sheet.positions.row(n);
    whole.positions(m, axis) *= -1;
  }
  const Eigen::Index n_triangles = sheet.triangles.rows();
  whole.triangles.resize(2 * n_triangles, 3);
  whole.triangles.topRows(n_triangles) = sheet.triangles;
  for (Eigen::Index t = 0; t < n_triangles; ++t)
    for (int i = 0; i < 3; ++i)  // turned round, so that the normal stays on the pad side
      whole.triangles(n_triangles + t, i) = image[static_cast<std::size_t>(sheet.triangles(t, 2 - i))];
  whole.thickness = twice(sheet.thickness);
  whole.thinning = twice(sheet.thinning);
  whole.limit_share = twice(sheet.limit_share);
  return whole;
}

Surface thick_surface(const DrawnSheet& sheet, const mesh::Triangles& triangles, double swell) {
  const int n = static_cast<int>(sheet.positions.rows());
  const mesh::Points normals = nodal_normals(sheet.triangles, sheet.positions);
  const Eigen::VectorXd half = 0.5 * swell * nodal_average(sheet.triangles, sheet.positions, sheet.thickness);
  Surface surface;
  surface.points.resize(2 * sheet.positions.rows(), 3);
  const mesh::Points offset = half.asDiagonal() * normals;
  surface.points.topRows(n) = sheet.positions + offset;
  surface.points.bottomRows(n) = sheet.positions - offset;
  const auto rim = border_edges(triangles);
  const Eigen::Index n_faces = triangles.rows();
  surface.triangles.resize(2 * n_faces + 2 * static_cast<Eigen::Index>(rim.size()), 3);
  surface.triangles.topRows(n_faces) = triangles;
  for (Eigen::Index t = 0; t < n_faces; ++t)
    surface.triangles.row(n_faces + t) << triangles(t, 0) + n, triangles(t, 2) + n, triangles(t, 1) + n;
  Eigen::Index row = 2 * n_faces;
  for (const auto& [a, b] : rim) {
    surface.triangles.row(row++) << a, a + n, b;
    surface.triangles.row(row++) << b, a + n, b + n;
  }
  return surface;
}

mesh::Triangles triangles_over(const DrawnSheet& sheet) {
  mesh::Triangles over(sheet.triangles.rows(), 3);
  Eigen::Index count = 0;
  for (Eigen::Index t = 0; t < sheet.limit_share.size(); ++t)
    if (sheet.limit_share(t) > 1) over.row(count++) = sheet.triangles.row(t);
  over.conservativeResize(count, 3);
  return over;
}

Eigen::AlignedBox3d bounds(const mesh::Points& points) {
  Eigen::AlignedBox3d box;
  for (Eigen::Index i = 0; i < points.rows(); ++i) box.extend(Eigen::Vector3d(points.row(i)));
  return box;
}

}  // namespace halftool::io
