#include "mesh/face_patch.hpp"

#include <gmsh.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;
using Line = std::vector<Vector2d>;  // points in the parameters of a face

constexpr int n_parts = 32;           // of a side that is looked at
constexpr int n_lines = 4;            // spaces between lines that are looked at from side to side
constexpr double same_corner = 1e-3;  // of the face's extent in its parameters

std::vector<int> end_points(int curve) {
  gmsh::vectorpair ends;
  gmsh::model::getBoundary({{1, curve}}, ends, false, false, false);
  std::vector<int> points;
  for (const auto& [dimension, tag] : ends) points.push_back(tag);
  return points;
}

bool share_a_point(int first, int second) {
  const auto a = end_points(first), b = end_points(second);
  return std::any_of(a.begin(), a.end(),
                     [&](int point) { return std::find(b.begin(), b.end(), point) != b.end(); });
}

bool is_closed(int curve) {
  const auto ends = end_points(curve);
  return !ends.empty() && ends.front() == ends.back();
}

bool is_ring(const OppositeSides& sides) {
  return sides[1][0] == sides[1][1];
}

Line on_face(int surface, int curve, const std::vector<double>& parameters) {
  std::vector<double> uv;
  gmsh::model::reparametrizeOnSurface(1, curve, parameters, surface, uv);
  Line line;
  for (std::size_t i = 0; i + 1 < uv.size(); i += 2) line.emplace_back(uv[i], uv[i + 1]);
  return line;
}

std::array<double, 2> bounds_of(int curve) {
  std::vector<double> low, high;
  gmsh::model::getParametrizationBounds(1, curve, low, high);
  return {low.at(0), high.at(0)};
}

/// A side of a patch: points along it, and the nodes there once it is meshed.
struct Side {
  Line line;
  std::vector<std::size_t> nodes;

  /// Turns it round where it ends closer to a point than it begins.
  void begin_at(const Vector2d& point) {
    if ((line.back() - point).norm() >= (line.front() - point).norm()) return;
    std::reverse(line.begin(), line.end());
    std::reverse(nodes.begin(), nodes.end());
  }
};

Side sampled_side(int surface, int curve) {
  const auto [low, high] = bounds_of(curve);
  std::vector<double> parameters;
  for (int i = 0; i <= n_parts; ++i) parameters.push_back(low + (high - low) * i / n_parts);
  return {on_face(surface, curve, parameters), {}};
}

Side straight_side(const Vector2d& from, const Vector2d& to, int parts) {
  Side side;
  for (int i = 0; i <= parts; ++i) side.line.emplace_back(from + (to - from) * i / parts);
  return side;
}

/// The nodes of a curve's ends, that at its lower parameter first.
std::array<std::size_t, 2> end_nodes(int curve) {
  std::vector<double> start;
  gmsh::model::getValue(1, curve, {bounds_of(curve)[0]}, start);
  std::array<std::size_t, 2> nodes{};
  std::array<double, 2> distance{};
  const auto points = end_points(curve);
  for (std::size_t i = 0; i < 2; ++i) {
    std::vector<std::size_t> tags;
    std::vector<double> x, unused;
    gmsh::model::mesh::getNodes(tags, x, unused, 0, points.at(std::min(i, points.size() - 1)), false, false);
    nodes[i] = tags.at(0);
    distance[i] = Vector3d(x.at(0) - start.at(0), x.at(1) - start.at(1), x.at(2) - start.at(2)).norm();
  }
  if (distance[1] < distance[0]) std::swap(nodes[0], nodes[1]);
  return nodes;
}

Side meshed_side(int surface, int curve) {
  std::vector<std::size_t> tags;
  std::vector<double> coordinates, parameters;
  gmsh::model::mesh::getNodes(tags, coordinates, parameters, 1, curve, false, true);
  std::vector<std::size_t> order(tags.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(),
            [&](std::size_t a, std::size_t b) { return parameters.at(a) < parameters.at(b); });
  const auto [low, high] = bounds_of(curve);
  const auto ends = end_nodes(curve);
  Side side;
  side.nodes = {ends[0]};
  std::vector<double> sorted = {low};
  for (const std::size_t i : order) {
    side.nodes.push_back(tags[i]);
    sorted.push_back(parameters[i]);
  }
  side.nodes.push_back(ends[1]);
  sorted.push_back(high);
  side.line = on_face(surface, curve, sorted);
  return side;
}

/// The sides of a patch in its parameters: the first pair from `left` to `right`, the other from `first` to
/// `second`.
struct Frame {
  Side first, second, left, right;

  [[nodiscard]] std::size_t columns() const { return first.line.size() - 1; }
  [[nodiscard]] std::size_t rows() const { return left.line.size() - 1; }
  [[nodiscard]] bool has_even_sides() const {
    return second.line.size() == first.line.size() && right.line.size() == left.line.size() &&
           columns() > 0 && rows() > 0;
  }
  /// Coons patch at a point of the first pair and one of the other pair.
  [[nodiscard]] Vector2d at(std::size_t i, std::size_t j) const {
    const double s = static_cast<double>(i) / static_cast<double>(columns());
    const double t = static_cast<double>(j) / static_cast<double>(rows());
    return (1 - t) * first.line[i] + t * second.line[i] + (1 - s) * left.line[j] + s * right.line[j] -
           (1 - t) * ((1 - s) * first.line.front() + s * first.line.back()) -
           t * ((1 - s) * second.line.front() + s * second.line.back());
  }
  [[nodiscard]] bool meets_at_corners() const {
    Eigen::AlignedBox2d box;
    for (const Side* side : {&first, &second, &left, &right})
      for (const Vector2d& point : side->line) box.extend(point);
    const auto same = [&](const Vector2d& a, const Vector2d& b) {
      return ((a - b).array().abs() <= same_corner * box.sizes().array()).all();
    };
    return same(first.line.front(), left.line.front()) && same(first.line.back(), right.line.front()) &&
           same(second.line.front(), left.line.back()) && same(second.line.back(), right.line.back());
  }
  [[nodiscard]] bool folds_over() const {
    constexpr std::size_t step = n_parts / n_lines;
    double sign = 0;
    for (std::size_t i = 0; i < columns(); i += step)
      for (std::size_t j = 0; j < rows(); j += step) {
        const Vector2d a = at(i + step, j) - at(i, j + step), b = at(i + step, j + step) - at(i, j);
        const double area = a.x() * b.y() - a.y() * b.x();
        if (area == 0 || area * sign < 0) return true;
        sign = area;
      }
    return false;
  }
};

/// @param side_of  the side that lies on a curve
/// @param parts    of the straight sides that a ring gets along its seam
template <class SideOf>
Frame frame_of(const FacePatch& patch, SideOf side_of, int parts) {
  Frame frame{side_of(patch.sides[0][0]), side_of(patch.sides[0][1]), {}, {}};
  const Vector2d begin = frame.first.line.front(), end = frame.first.line.back();
  if (is_ring(patch.sides)) {
    frame.second.begin_at(begin);
    frame.left = straight_side(begin, frame.second.line.front(), parts);
    frame.right = straight_side(end, frame.second.line.back(), parts);
    return frame;
  }
  frame.left = side_of(patch.sides[1][0]);
  frame.right = side_of(patch.sides[1][1]);
  frame.left.begin_at(begin);
  frame.right.begin_at(begin);
  if ((frame.right.line.front() - begin).norm() < (frame.left.line.front() - begin).norm())
    std::swap(frame.left, frame.right);
  frame.right.begin_at(end);
  frame.second.begin_at(frame.left.line.back());
  return frame;
}

/// Largest turn of the normal from point to point [rad]; nothing where there is no normal.
std::optional<double> largest_step(int surface, const Line& line) {
  std::vector<double> uv, components;
  for (const Vector2d& point : line) uv.insert(uv.end(), {point.x(), point.y()});
  gmsh::model::getNormal(surface, uv, components);
  if (components.size() != 3 * line.size()) return std::nullopt;
  const Eigen::Map<const Eigen::Matrix3Xd> normals(components.data(), 3,
                                                   static_cast<Eigen::Index>(line.size()));
  double chord = 0;
  for (Eigen::Index i = 0; i < normals.cols(); ++i) {
    if (!(std::abs(normals.col(i).norm() - 1) < 0.01)) return std::nullopt;
    if (i > 0) chord = std::max(chord, (normals.col(i) - normals.col(i - 1)).norm());
  }
  return 2 * std::asin(std::min(1.0, chord / 2));
}

bool measure_turns(const Frame& frame, FacePatch& patch) {
  for (std::size_t k = 0; k <= n_parts; k += n_parts / n_lines) {
    std::array<Line, 2> lines;
    for (std::size_t i = 0; i <= n_parts; ++i) {
      lines[0].push_back(frame.at(i, k));
      lines[1].push_back(frame.at(k, i));
    }
    for (std::size_t pair = 0; pair < 2; ++pair) {
      const auto step = largest_step(patch.surface, lines[pair]);
      if (!step) return false;
      patch.turn[pair] = std::max(patch.turn[pair], n_parts * *step);
    }
  }
  return true;
}

std::size_t largest_node_tag() {
  std::vector<std::size_t> tags;
  std::vector<double> coordinates, parameters;
  gmsh::model::mesh::getNodes(tags, coordinates, parameters, -1, -1, false, false);
  return tags.empty() ? 0 : *std::max_element(tags.begin(), tags.end());
}

/// Node numbers row by row, with new nodes inside and along the seam of a ring.
std::vector<std::vector<std::size_t>> lay_nodes(const FacePatch& patch, const Frame& frame) {
  const std::size_t n = frame.columns(), m = frame.rows();
  std::vector<std::vector<std::size_t>> nodes(m + 1, std::vector<std::size_t>(n + 1));
  nodes[0] = frame.first.nodes;
  nodes[m] = frame.second.nodes;
  std::size_t tag = largest_node_tag();
  std::vector<std::size_t> tags;
  std::vector<double> uv, coordinates;
  for (std::size_t j = 1; j < m; ++j) {
    for (std::size_t i = is_ring(patch.sides) ? 0 : 1; i < n; ++i) {
      const Vector2d point = frame.at(i, j);
      uv.insert(uv.end(), {point.x(), point.y()});
      tags.push_back(nodes[j][i] = ++tag);
    }
    if (!is_ring(patch.sides)) nodes[j][0] = frame.left.nodes[j];
    nodes[j][n] = is_ring(patch.sides) ? nodes[j][0] : frame.right.nodes[j];
  }
  if (tags.empty()) return nodes;
  gmsh::model::getValue(2, patch.surface, uv, coordinates);
  gmsh::model::mesh::addNodes(2, patch.surface, tags, coordinates, uv);
  return nodes;
}

}  // namespace

std::optional<OppositeSides> opposite_sides(int surface) {
  gmsh::vectorpair boundary;
  gmsh::model::getBoundary({{2, surface}}, boundary, false, false, false);
  if (boundary.size() != 4) return std::nullopt;
  std::vector<int> curves;
  for (const auto& [dimension, curve] : boundary) curves.push_back(curve);
  std::sort(curves.begin(), curves.end());
  const auto twice = std::adjacent_find(curves.begin(), curves.end());
  if (twice != curves.end()) {
    const int seam = *twice;
    curves.erase(twice, twice + 2);
    if (curves[0] == curves[1] || !is_closed(curves[0]) || !is_closed(curves[1])) return std::nullopt;
    return OppositeSides{{{curves[0], curves[1]}, {seam, seam}}};
  }
  const auto opposite =
      std::find_if(curves.begin() + 1, curves.end(), [&](int c) { return !share_a_point(curves[0], c); });
  if (opposite == curves.end()) return std::nullopt;
  std::swap(curves[1], *opposite);
  if (share_a_point(curves[2], curves[3])) return std::nullopt;
  for (const int first : {curves[0], curves[1]})
    for (const int second : {curves[2], curves[3]})
      if (!share_a_point(first, second)) return std::nullopt;
  return OppositeSides{{{curves[0], curves[1]}, {curves[2], curves[3]}}};
}

std::optional<FacePatch> find_patch(int surface) {
  const auto sides = opposite_sides(surface);
  if (!sides) return std::nullopt;
  FacePatch patch{surface, *sides};
  const auto side_of = [&](int curve) { return sampled_side(surface, curve); };
  const Frame frame = frame_of(patch, side_of, n_parts);
  if (!frame.has_even_sides() || !frame.meets_at_corners() || frame.folds_over()) return std::nullopt;
  if (!measure_turns(frame, patch)) return std::nullopt;
  return patch;
}

void lay_patch(const FacePatch& patch, int n_rows) {
  const auto side_of = [&](int curve) { return meshed_side(patch.surface, curve); };
  const Frame frame = frame_of(patch, side_of, n_rows);
  if (!frame.has_even_sides()) throw MeshError("opposite sides of a face are not meshed alike");
  const auto nodes = lay_nodes(patch, frame);
  std::vector<std::size_t> corners;
  for (std::size_t j = 0; j < frame.rows(); ++j)
    for (std::size_t i = 0; i < frame.columns(); ++i)
      corners.insert(corners.end(), {nodes[j][i], nodes[j][i + 1], nodes[j + 1][i + 1],  //
                                     nodes[j][i], nodes[j + 1][i + 1], nodes[j + 1][i]});
  gmsh::model::mesh::addElementsByType(patch.surface, 2, {}, corners);
}

}  // namespace halftool::mesh
