#include "mesh/trim.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <set>
#include <sstream>
#include <utility>

#include "mesh/mesh_check.hpp"
#include "mesh/sheet_pieces.hpp"
#include "mesh/trim_side.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double most_move = 0.25;    // of an edge, that a node is moved onto the line
constexpr double least_share = 0.05;  // of an edge; a node nearer to the line counts as on it, moved or not
constexpr double least_angle = 10 * std::numbers::pi / 180;  // of a triangle whose corner is moved
constexpr double straight = 0.9998;        // cosine of the turn of a border that a node may be moved along
constexpr double least_plane_area = 1e-2;  // of a triangle seen along the line's axis, over two of its sides
constexpr double same_place = 1e-3;        // [mm]
constexpr int n_bisections = 48;

double angle_at(const Eigen::RowVector3d& a, const Eigen::RowVector3d& b, const Eigen::RowVector3d& c) {
  const Eigen::RowVector3d u = b - a, v = c - a;
  return std::atan2(u.cross(v).norm(), u.dot(v));
}

class Cutter {
 public:
  Cutter(const Blank& blank, const Points& formed, const TrimSpec& spec)
      : blank_(blank), formed_(formed), side_(spec), reference_(blank.mesh.nodes) {}

  TrimmedBlank run() {
    find_sides();
    move_to_corners();
    find_crossings();
    move_nodes();
    find_crossings_from_the_line();
    split();
    return assemble();
  }

 private:
  void find_sides() {
    sign_.resize(static_cast<std::size_t>(blank_.mesh.n_nodes()));
    for (int i = 0; i < blank_.mesh.n_nodes(); ++i) sign_[i] = side_.keeps(formed_.row(i)) ? 1 : -1;
    origin_.resize(sign_.size());
    for (int i = 0; i < blank_.mesh.n_nodes(); ++i) origin_[i] = {{i, i, i}};
  }

  [[nodiscard]] Eigen::RowVector3d on_edge(int edge, double share) const {
    const auto ends = blank_.edges.nodes.row(edge);
    return (1 - share) * formed_.row(ends(0)) + share * formed_.row(ends(1));
  }

  // Share of each edge at which the line crosses it; -1: it does not.
  void find_crossings() {
    crossing_.assign(static_cast<std::size_t>(blank_.edges.n_edges()), -1);
    for (int e = 0; e < blank_.edges.n_edges(); ++e) {
      const int tail = blank_.edges.nodes(e, 0), head = blank_.edges.nodes(e, 1);
      if (sign_[tail] == 0 || sign_[head] == 0) continue;
      if (sign_[tail] == sign_[head]) {
        if (side_.crossings(formed_.row(tail), formed_.row(head)) > 1) ++details_lost_;
        continue;
      }
      double low = 0, high = 1;
      for (int i = 0; i < n_bisections; ++i) {
        const double middle = 0.5 * (low + high);
        (side_.keeps(on_edge(e, middle)) == (sign_[tail] > 0) ? low : high) = middle;
      }
      crossing_[e] = 0.5 * (low + high);
    }
  }

  // To each corner of the line an inner node of the triangle in which it lies, the nearest that leaves good
  // triangles.
  void move_to_corners() {
    for (const Vector2d& corner : side_.corners())
      for (int t = 0; t < blank_.mesh.n_triangles(); ++t)
        if (const auto share = share_of(t, corner)) move_to_corner(t, *share);
  }

  void move_to_corner(int triangle, const Eigen::Vector3d& share) {
    const auto nodes = blank_.mesh.triangles.row(triangle);
    std::array<int, 3> order{0, 1, 2};
    std::sort(order.begin(), order.end(), [&](int a, int b) { return share(a) > share(b); });
    for (const int i : order) {
      const int node = nodes(i), second = (i + 1) % 3, third = (i + 2) % 3;
      if (borders_[node][0] >= 0 || sign_[node] == 0) continue;
      move_to(node, {{node, nodes(second), nodes(third)}, {share(i), share(second), share(third)}});
      if (!is_any_spoiled(node)) {
        at_corner_.insert(node);
        return;
      }
      take_back(node);
    }
  }

  [[nodiscard]] bool is_any_spoiled(int node) const {
    for (int t = 0; t < blank_.mesh.n_triangles(); ++t) {
      const auto nodes = blank_.mesh.triangles.row(t);
      if (std::count(nodes.begin(), nodes.end(), node) > 0 && is_spoiled(t)) return true;
    }
    return false;
  }

  // Barycentric coordinates of a point of the line's plane in a triangle that holds it.
  [[nodiscard]] std::optional<Eigen::Vector3d> share_of(int triangle, const Vector2d& at) const {
    const auto nodes = blank_.mesh.triangles.row(triangle);
    const Vector2d a = side_.plane(formed_.row(nodes(0))), b = side_.plane(formed_.row(nodes(1))),
                   c = side_.plane(formed_.row(nodes(2)));
    const double area = cross(b - a, c - a);
    if (std::abs(area) < least_plane_area * (b - a).norm() * (c - a).norm()) return std::nullopt;
    const Eigen::Vector3d share(cross(b - at, c - at) / area, cross(c - at, a - at) / area,
                                cross(a - at, b - at) / area);
    if (share.minCoeff() < 0) return std::nullopt;
    return share;
  }

  // The crossing nearest to each node, as an edge; the farther end is what it would move towards.
  void move_nodes() {
    std::map<int, std::pair<double, int>> wanted;  // node -> share, edge
    for (int e = 0; e < blank_.edges.n_edges(); ++e) {
      if (crossing_[e] < 0) continue;
      for (const int end : {0, 1}) {
        const double share = end == 0 ? crossing_[e] : 1 - crossing_[e];
        const int node = blank_.edges.nodes(e, end);
        if (share > most_move || !may_move(node, e)) continue;
        const auto found = wanted.find(node);
        if (found == wanted.end() || share < found->second.first) wanted[node] = {share, e};
      }
    }
    for (const auto& [node, move] : wanted) {
      const int edge = move.second;
      const int other =
          blank_.edges.nodes(edge, 0) == node ? blank_.edges.nodes(edge, 1) : blank_.edges.nodes(edge, 0);
      move_to(node, {{node, other, other}, {1 - move.first, move.first, 0}});
    }
    take_back_bad_moves();
    for (int e = 0; e < blank_.edges.n_edges(); ++e) {
      if (crossing_[e] < 0) continue;
      for (const int end : {0, 1})
        if ((end == 0 ? crossing_[e] : 1 - crossing_[e]) < least_share) sign_[blank_.edges.nodes(e, end)] = 0;
    }
  }

  // An edge from a node on the line may cross it again: near a corner of the line.
  void find_crossings_from_the_line() {
    near_is_kept_.assign(crossing_.size(), std::nullopt);
    for (int e = 0; e < blank_.edges.n_edges(); ++e) {
      const int end = sign_[blank_.edges.nodes(e, 0)] == 0 ? 0 : 1;
      const int node = blank_.edges.nodes(e, end), other = blank_.edges.nodes(e, 1 - end);
      if (sign_[node] != 0 || sign_[other] == 0 || at_corner_.count(node) > 0) continue;
      const Eigen::RowVector3d from = origin_[node].among(formed_), to = formed_.row(other);
      const auto keeps = [&](double share) { return side_.keeps((1 - share) * from + share * to); };
      double low = 2 * least_share, high = 1;
      const bool near = keeps(low);
      if (near == (sign_[other] > 0)) continue;
      for (int i = 0; i < n_bisections; ++i) {
        const double middle = 0.5 * (low + high);
        (keeps(middle) == near ? low : high) = middle;
      }
      if (high > 1 - least_share) continue;
      crossing_[e] = high;
      near_is_kept_[e] = near;
    }
  }

  void move_to(int node, const NodeOrigin& origin) {
    before_move_[node] = sign_[node];
    sign_[node] = 0;
    origin_[node] = origin;
    reference_.row(node) = origin.among(blank_.mesh.nodes);
  }

  // A node of the border moves along a border that goes straight on, or towards a part that is kept.
  [[nodiscard]] bool may_move(int node, int edge) const {
    const auto border = borders_.at(static_cast<std::size_t>(node));
    if (border[0] < 0) return true;
    if (edge != border[0] && edge != border[1]) return false;
    if (border[1] < 0) return false;
    const int other_edge = edge == border[0] ? border[1] : border[0];
    if (blank_.edge_kind[edge] != blank_.edge_kind[other_edge]) return sign_[node] < 0;
    return sign_[node] < 0 || direction(node, edge).dot(direction(node, other_edge)) < -straight;
  }

  [[nodiscard]] Eigen::RowVector3d direction(int node, int edge) const {
    const int tail = blank_.edges.nodes(edge, 0), head = blank_.edges.nodes(edge, 1);
    const int other = tail == node ? head : tail;
    return (blank_.mesh.nodes.row(other) - blank_.mesh.nodes.row(node)).normalized();
  }

  // Nodes that were moved to a corner of the line give way last.
  void take_back_bad_moves() {
    const auto take_back_at = [&](int t, bool corners) {
      bool any = false;
      for (const int node : blank_.mesh.triangles.row(t))
        if ((at_corner_.count(node) > 0) == corners) any = take_back(node) || any;
      return any;
    };
    for (bool again = true; again;) {
      again = false;
      for (int t = 0; t < blank_.mesh.n_triangles(); ++t)
        if (is_spoiled(t)) again = take_back_at(t, false) || take_back_at(t, true) || again;
    }
  }

  [[nodiscard]] bool is_spoiled(int triangle) const {
    const auto nodes = blank_.mesh.triangles.row(triangle);
    if (std::none_of(nodes.begin(), nodes.end(), [&](int n) { return before_move_.count(n) > 0; }))
      return false;
    const Eigen::RowVector3d a = reference_.row(nodes(0)), b = reference_.row(nodes(1)),
                             c = reference_.row(nodes(2));
    const Eigen::RowVector3d old_a = blank_.mesh.nodes.row(nodes(0)), old_b = blank_.mesh.nodes.row(nodes(1)),
                             old_c = blank_.mesh.nodes.row(nodes(2));
    const double before = std::min(
        {angle_at(old_a, old_b, old_c), angle_at(old_b, old_c, old_a), angle_at(old_c, old_a, old_b)});
    const double now = std::min({angle_at(a, b, c), angle_at(b, c, a), angle_at(c, a, b)});
    const bool turned_over = (b - a).cross(c - a).dot((old_b - old_a).cross(old_c - old_a)) <= 0;
    return turned_over || now < std::min(least_angle, 0.5 * before);
  }

  bool take_back(int node) {
    const auto found = before_move_.find(node);
    if (found == before_move_.end()) return false;
    sign_[node] = found->second;
    origin_[node] = {{node, node, node}};
    reference_.row(node) = blank_.mesh.nodes.row(node);
    before_move_.erase(found);
    return true;
  }

  // The node at which the line crosses an edge.
  int crossing_node(int edge) {
    const auto [found, is_new] = node_of_edge_.try_emplace(edge, static_cast<int>(origin_.size()));
    if (!is_new) return found->second;
    const double share = crossing_[edge];
    int from = blank_.edges.nodes(edge, 0), to = blank_.edges.nodes(edge, 1);
    if (near_is_kept_[edge] && sign_[from] != 0) std::swap(from, to);
    const NodeOrigin& start = origin_[from];  // on two nodes at most where it was moved along an edge
    origin_.push_back({{start.nodes[0], start.nodes[1], to},
                       {(1 - share) * start.share.x(), (1 - share) * start.share.y(), share}});
    edge_of_node_.push_back(edge);
    return found->second;
  }

  void keep(int parent, int a, int b, int c) {
    triangles_.push_back({a, b, c});
    parents_.push_back(parent);
  }

  void split() {
    for (int t = 0; t < blank_.mesh.n_triangles(); ++t) {
      const auto nodes = blank_.mesh.triangles.row(t);
      const std::array<int, 3> signs{sign_[nodes(0)], sign_[nodes(1)], sign_[nodes(2)]};
      const auto [least, most] = std::minmax_element(signs.begin(), signs.end());
      if (is_crossed(t, signs)) {
        split(t, signs);
      } else if (*least == 0 && *most == 0) {
        if (side_.keeps(middle_of(t))) keep(t, nodes(0), nodes(1), nodes(2));
      } else if (*least >= 0) {
        keep(t, nodes(0), nodes(1), nodes(2));
      }
    }
  }

  [[nodiscard]] bool crosses(int edge, int sign, int next_sign) const {
    return sign * next_sign < 0 || near_is_kept_[edge].has_value();
  }

  [[nodiscard]] bool is_crossed(int t, const std::array<int, 3>& signs) const {
    for (int i = 0; i < 3; ++i)
      if (crosses(blank_.edges.of_triangle(t, i), signs[(i + 1) % 3], signs[(i + 2) % 3])) return true;
    return false;
  }

  [[nodiscard]] Eigen::RowVector3d middle_of(int t) const {
    Eigen::RowVector3d sum = Eigen::RowVector3d::Zero();
    for (int i = 0; i < 3; ++i) sum += origin_[blank_.mesh.triangles(t, i)].among(formed_);
    return sum / 3;
  }

  // The kept part as a polygon around the triangle. A node on the line belongs to it unless an edge that
  // leaves it on the side that is cut off crosses over.
  void split(int t, const std::array<int, 3>& signs) {
    std::vector<int> corners;
    for (int i = 0; i < 3; ++i) {
      const int next = (i + 1) % 3, last = (i + 2) % 3;
      const int ahead = blank_.edges.of_triangle(t, last), behind = blank_.edges.of_triangle(t, next);
      const bool leaves = signs[i] == 0 && (near_is_kept_[ahead] == false || near_is_kept_[behind] == false);
      if (signs[i] >= 0 && !leaves) corners.push_back(blank_.mesh.triangles(t, i));
      if (crosses(ahead, signs[i], signs[next])) corners.push_back(crossing_node(ahead));
    }
    if (corners.size() == 4) {
      const bool first =
          (place(corners[0]) - place(corners[2])).norm() <= (place(corners[1]) - place(corners[3])).norm();
      if (!first) std::rotate(corners.begin(), corners.begin() + 1, corners.end());
    }
    for (std::size_t i = 1; i + 1 < corners.size(); ++i) keep(t, corners[0], corners[i], corners[i + 1]);
  }

  // Of a node in the flat sheet.
  [[nodiscard]] Eigen::RowVector3d place(int node) const {
    if (node < reference_.rows()) return reference_.row(node);
    return origin_[node].among(blank_.mesh.nodes);
  }

  [[noreturn]] void refuse_unmet() const {
    Eigen::Vector2d low = side_.plane(formed_.row(0)), high = low;
    for (int i = 0; i < blank_.mesh.n_nodes(); ++i) {
      low = low.cwiseMin(side_.plane(formed_.row(i)));
      high = high.cwiseMax(side_.plane(formed_.row(i)));
    }
    std::ostringstream text;
    text << "the trim line does not meet the sheet, which seen along its axis reaches from (" << low.x()
         << ", " << low.y() << ") to (" << high.x() << ", " << high.y()
         << ") mm; draw it across the formed part, in the tool's frame";
    throw MeshError(text.str());
  }

  TrimmedBlank assemble() {
    if (triangles_.empty())
      throw MeshError(
          "the trim line leaves nothing of the sheet; draw it around the part, or keep its other side");
    if (static_cast<int>(triangles_.size()) == blank_.mesh.n_triangles() && node_of_edge_.empty())
      refuse_unmet();
    TrimmedBlank result;
    std::vector<int> number(origin_.size(), -1), old_node;
    result.blank = blank_;
    SurfaceMesh& mesh = result.blank.mesh;
    mesh.triangles.resize(static_cast<Eigen::Index>(triangles_.size()), 3);
    for (std::size_t t = 0; t < triangles_.size(); ++t) {
      for (int i = 0; i < 3; ++i) {
        const int node = triangles_[t][i];
        if (number[node] < 0) {
          number[node] = static_cast<int>(old_node.size());
          old_node.push_back(node);
        }
        mesh.triangles(static_cast<Eigen::Index>(t), i) = number[node];
      }
    }
    mesh.nodes.resize(static_cast<Eigen::Index>(old_node.size()), 3);
    for (std::size_t i = 0; i < old_node.size(); ++i) {
      mesh.nodes.row(static_cast<Eigen::Index>(i)) = place(old_node[i]);
      result.node_origin.push_back(origin_[old_node[i]]);
    }
    result.parent = parents_;
    const Points formed = formed_of(result.node_origin);
    result.blank.edges = build_edges(mesh);
    refuse_several_pieces(result.blank, formed);
    find_edge_origins(old_node, result);
    result.details_lost = details_lost_ + corners_lost(result.blank, formed);
    check_triangles(mesh, result.blank.edges);
    result.kept_share = area_of(mesh) / area_of(blank_.mesh);
    return result;
  }

  [[nodiscard]] Points formed_of(const std::vector<NodeOrigin>& origins) const {
    Points places(static_cast<Eigen::Index>(origins.size()), 3);
    for (std::size_t i = 0; i < origins.size(); ++i)
      places.row(static_cast<Eigen::Index>(i)) = origins[i].among(formed_);
    return places;
  }

  // Corners of the line on the sheet that the trimmed border does not pass: cut off within an element.
  [[nodiscard]] int corners_lost(const Blank& blank, const Points& kept) const {
    int lost = 0;
    for (const Vector2d& corner : side_.corners()) {
      bool on_sheet = false, is_passed = false;
      for (int t = 0; t < blank_.mesh.n_triangles() && !on_sheet; ++t)
        on_sheet = share_of(t, corner).has_value();
      for (int e = 0; e < blank.edges.n_edges() && !is_passed; ++e)
        is_passed = blank.edge_kind[e] == EdgeKind::trimmed &&
                    (side_.plane(kept.row(blank.edges.nodes(e, 0))) - corner).norm() < same_place;
      lost += on_sheet && !is_passed;
    }
    return lost;
  }

  static double area_of(const SurfaceMesh& mesh) {
    double area = 0;
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      const Eigen::RowVector3d a = mesh.nodes.row(mesh.triangles(t, 0));
      const Eigen::RowVector3d b = mesh.nodes.row(mesh.triangles(t, 1)),
                               c = mesh.nodes.row(mesh.triangles(t, 2));
      area += 0.5 * (b - a).cross(c - a).norm();
    }
    return area;
  }

  // The edge of the sheet before that lies between two nodes, or holds them.
  [[nodiscard]] EdgeOrigin origin_of_edge(int a, int b) const {
    const int n = blank_.mesh.n_nodes();
    if (a >= n && b >= n) return {};
    if (a >= n) std::swap(a, b);
    if (b >= n) {
      const int edge = edge_of_node_[b - n];
      const bool is_end = blank_.edges.nodes(edge, 0) == a || blank_.edges.nodes(edge, 1) == a;
      return is_end ? EdgeOrigin{edge, false} : EdgeOrigin{};
    }
    const bool moved = before_move_.count(a) > 0 || before_move_.count(b) > 0;
    const int edge = edge_between(a, b);
    return {edge, edge >= 0 && !moved};
  }

  [[nodiscard]] int edge_between(int a, int b) const {
    const auto found = edge_of_.find(std::minmax(a, b));
    return found == edge_of_.end() ? -1 : found->second;
  }

  void find_edge_origins(const std::vector<int>& old_node, TrimmedBlank& result) const {
    Blank& blank = result.blank;
    blank.edge_kind.assign(static_cast<std::size_t>(blank.edges.n_edges()), EdgeKind::interior);
    for (PinnedRim& pin : blank.pins) pin.edges.clear();
    for (int e = 0; e < blank.edges.n_edges(); ++e) {
      const EdgeOrigin origin =
          origin_of_edge(old_node[blank.edges.nodes(e, 0)], old_node[blank.edges.nodes(e, 1)]);
      result.edge_origin.push_back(origin);
      if (!blank.edges.is_boundary(e)) continue;
      const bool was_border = origin.edge >= 0 && blank_.edges.is_boundary(origin.edge);
      blank.edge_kind[e] = was_border ? blank_.edge_kind[origin.edge] : EdgeKind::trimmed;
      if (!was_border) continue;
      for (std::size_t p = 0; p < blank.pins.size(); ++p)
        if (std::count(blank_.pins[p].edges.begin(), blank_.pins[p].edges.end(), origin.edge) > 0)
          blank.pins[p].edges.push_back(e);
    }
    std::erase_if(blank.pins, [](const PinnedRim& pin) { return pin.edges.empty(); });
  }

  static std::map<std::pair<int, int>, int> edges_by_ends(const EdgeTable& edges) {
    std::map<std::pair<int, int>, int> result;
    for (int e = 0; e < edges.n_edges(); ++e) result[std::minmax(edges.nodes(e, 0), edges.nodes(e, 1))] = e;
    return result;
  }

  // The two border edges at each node; -1: none.
  static std::vector<std::array<int, 2>> borders_of(const Blank& blank) {
    std::vector<std::array<int, 2>> borders(static_cast<std::size_t>(blank.mesh.n_nodes()), {-1, -1});
    for (int e = 0; e < blank.edges.n_edges(); ++e) {
      if (!blank.edges.is_boundary(e)) continue;
      for (const int end : {0, 1}) {
        auto& at = borders[blank.edges.nodes(e, end)];
        (at[0] < 0 ? at[0] : at[1]) = e;
      }
    }
    return borders;
  }

  const Blank& blank_;
  const Points& formed_;
  TrimSide side_;
  Points reference_;                               // flat, nodes moved onto the line included
  std::vector<int> sign_;                          // of each node: +1 kept, 0 on the line, -1 cut off
  std::vector<double> crossing_;                   // of each edge
  std::vector<std::optional<bool>> near_is_kept_;  // of edges from a node on the line that cross it again
  std::vector<int> edge_of_node_;                  // of nodes on edges
  std::vector<NodeOrigin> origin_;                 // nodes, then those on edges
  std::map<int, int> before_move_;                 // node -> its sign before
  std::set<int> at_corner_;                        // nodes moved to corners of the line
  std::map<int, int> node_of_edge_;                // edge -> node where the line crosses it
  std::vector<std::array<int, 3>> triangles_;
  std::vector<int> parents_;
  int details_lost_ = 0;
  std::map<std::pair<int, int>, int> edge_of_ = edges_by_ends(blank_.edges);
  std::vector<std::array<int, 2>> borders_ = borders_of(blank_);
};

}  // namespace

TrimmedBlank trim_blank(const Blank& blank, const Points& formed, const TrimSpec& spec) {
  return Cutter(blank, formed, spec).run();
}

}  // namespace halftool::mesh
