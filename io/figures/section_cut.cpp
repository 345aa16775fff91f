#include "io/figures/section_cut.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "io/results/nodal_average.hpp"

namespace halftool::io {
namespace {

using Key = std::pair<double, double>;  ///< place of a crossing, equal bits for equal crossings

/// Crossings by their place, and who is joined to whom.
struct CutGraph {
  std::vector<Eigen::VectorXd> points;
  std::vector<std::vector<int>> joined;
  std::map<Key, int> number;

  int add(const Eigen::VectorXd& point) {
    const auto [entry, is_new] = number.try_emplace({point(0), point(1)}, static_cast<int>(points.size()));
    if (is_new) {
      points.push_back(point);
      joined.emplace_back();
    }
    return entry->second;
  }
  void join(int a, int b) {
    if (a == b) return;
    joined[static_cast<std::size_t>(a)].push_back(b);
    joined[static_cast<std::size_t>(b)].push_back(a);
  }
};

/// Where edge a-b crosses the plane: (along, z, carried...). The ends are taken in order of their
/// coordinates, so that nodes that coincide give the same bits whichever facet asks.
Eigen::VectorXd crossing(const mesh::Points& points, const Eigen::MatrixXd& carried,
                         const SectionPlane& plane, int a, int b) {
  const auto row = [&](int n) { return std::array{points(n, 0), points(n, 1), points(n, 2)}; };
  if (row(b) < row(a)) std::swap(a, b);
  const double from = points(a, plane.axis) - plane.at, to = points(b, plane.axis) - plane.at;
  const double part = from / (from - to);
  const int along = 1 - plane.axis;
  Eigen::VectorXd point(2 + carried.cols());
  point(0) = points(a, along) + part * (points(b, along) - points(a, along));
  point(1) = points(a, 2) + part * (points(b, 2) - points(a, 2));
  if (carried.cols() > 0)
    point.tail(carried.cols()) = ((1 - part) * carried.row(a) + part * carried.row(b)).transpose();
  return point;
}

CutLine walk(const CutGraph& graph, int start, std::vector<bool>& seen) {
  std::vector<int> chain{start};
  seen[static_cast<std::size_t>(start)] = true;
  for (bool moved = true; moved;) {
    moved = false;
    for (const int next : graph.joined[static_cast<std::size_t>(chain.back())]) {
      if (seen[static_cast<std::size_t>(next)]) continue;
      seen[static_cast<std::size_t>(next)] = true;
      chain.push_back(next);
      moved = true;
      break;
    }
  }
  CutLine line;
  line.points.resize(static_cast<Eigen::Index>(chain.size()), graph.points.front().size());
  for (std::size_t i = 0; i < chain.size(); ++i)
    line.points.row(static_cast<Eigen::Index>(i)) =
        graph.points[static_cast<std::size_t>(chain[i])].transpose();
  const auto& ends = graph.joined[static_cast<std::size_t>(chain.back())];
  line.closed = chain.size() > 2 && std::find(ends.begin(), ends.end(), start) != ends.end();
  return line;
}

}  // namespace

std::vector<CutLine> cut_surface(const mesh::Points& points, const mesh::Triangles& triangles,
                                 const SectionPlane& plane, const Eigen::MatrixXd& carried) {
  CutGraph graph;
  for (Eigen::Index t = 0; t < triangles.rows(); ++t) {
    std::vector<int> ends;
    for (int i = 0; i < 3; ++i) {
      const int a = triangles(t, i), b = triangles(t, (i + 1) % 3);
      if ((points(a, plane.axis) >= plane.at) != (points(b, plane.axis) >= plane.at))
        ends.push_back(graph.add(crossing(points, carried, plane, a, b)));
    }
    if (ends.size() == 2) graph.join(ends[0], ends[1]);
  }
  std::vector<CutLine> lines;
  std::vector<bool> seen(graph.points.size(), false);
  // Ends first, so that open lines are walked whole; what is left are loops.
  for (const bool ends_only : {true, false})
    for (std::size_t n = 0; n < graph.points.size(); ++n)
      if (!seen[n] && (!ends_only || graph.joined[n].size() == 1))
        if (CutLine line = walk(graph, static_cast<int>(n), seen); line.points.rows() > 1)
          lines.push_back(std::move(line));
  return lines;
}

std::vector<Eigen::MatrixX2d> cut_sheet(const DrawnSheet& sheet, const SectionPlane& plane) {
  Eigen::MatrixXd carried(sheet.positions.rows(), 3);  // thickness and the normal's components in the plane
  const mesh::Points normals = nodal_normals(sheet.triangles, sheet.positions);
  carried << nodal_average(sheet.triangles, sheet.positions, sheet.thickness), normals.col(1 - plane.axis),
      normals.col(2);
  std::vector<Eigen::MatrixX2d> bands;
  for (const CutLine& line : cut_surface(sheet.positions, sheet.triangles, plane, carried)) {
    const Eigen::Index n = line.points.rows();
    Eigen::MatrixX2d band(2 * n, 2);
    for (Eigen::Index i = 0; i < n; ++i) {
      const Eigen::Vector2d normal = line.points.row(i).segment<2>(3);
      // A sheet that leans out of the plane is cut askew and shows thicker, by the length of its normal's
      // shadow.
      const double shadow = std::max(normal.squaredNorm(), 0.1);
      const Eigen::Vector2d offset = 0.5 * line.points(i, 2) * normal / shadow;
      band.row(i) = line.points.row(i).head<2>() + offset.transpose();
      band.row(2 * n - 1 - i) = line.points.row(i).head<2>() - offset.transpose();
    }
    bands.push_back(std::move(band));
  }
  return bands;
}

SectionPlane choose_section(const DrawnSheet& sheet) {
  const mesh::Points normals = nodal_normals(sheet.triangles, sheet.positions);
  SectionPlane plane;
  plane.axis = normals.col(0).cwiseAbs().mean() >= normals.col(1).cwiseAbs().mean() ? 1 : 0;
  const double low = sheet.positions.col(plane.axis).minCoeff();
  const double high = sheet.positions.col(plane.axis).maxCoeff();
  const double inside = 1e-3 * (high - low);  // a little off the rim, where a half model ends at zero
  if (low <= inside && high >= -inside)
    plane.at = std::clamp(0.0, low + inside, high - inside);
  else
    plane.at = 0.5 * (low + high);
  return plane;
}

}  // namespace halftool::io
