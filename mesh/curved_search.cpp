#include "mesh/curved_search.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

namespace halftool::mesh {
namespace {

constexpr int max_hops = 40;
constexpr int max_iterations = 12;
constexpr double inside_tolerance = 1e-10;  // barycentric

/// Where a walk over smooth edges ended.
struct Walk {
  enum class End { inside, at_sharp_edge, failed } end = End::failed;
  CurvedContact contact;  ///< if inside
  int sharp_edge = -1;    ///< if at_sharp_edge
  int facet = -1;
};

/// Foot of x on one facet, whose b may lie outside the triangle.
struct Foot {
  Eigen::Vector3d b;
  double gap = 0;
  Eigen::Matrix3d inverse;  ///< of [q_b + gap n_b, n]
  Eigen::Matrix<double, 3, 2> normal_slopes;
  bool converged = false;
};

Foot foot_on(const CurvedFacet& facet, const Eigen::Vector3d& x, const Eigen::Vector3d& start) {
  Foot foot{start, 0, {}, {}, false};
  double gap = (x - facet.point(start)).dot(facet.unit_normal(start));
  const double length2 = (facet.corner[1] - facet.corner[0]).squaredNorm();
  for (int i = 0; i < max_iterations; ++i) {
    const Eigen::Vector3d n = facet.unit_normal(foot.b);
    foot.normal_slopes = facet.normal_slopes(foot.b);
    Eigen::Matrix3d jacobian;
    jacobian.leftCols<2>() = facet.point_slopes(foot.b) + gap * foot.normal_slopes;
    jacobian.col(2) = n;
    bool invertible = false;
    double determinant = 0;
    jacobian.computeInverseAndDetWithCheck(foot.inverse, determinant, invertible, 1e-30);
    if (!invertible) return foot;
    const Eigen::Vector3d residual = x - facet.point(foot.b) - gap * n;
    Eigen::Vector3d step = foot.inverse * residual;
    const double largest = step.head<2>().cwiseAbs().maxCoeff();
    if (largest > 1) step /= largest;
    foot.b(1) += step(0);
    foot.b(2) += step(1);
    foot.b(0) = 1 - foot.b(1) - foot.b(2);
    gap += step(2);
    foot.gap = gap;
    // A step this small leaves an error of its square, and J within rounding of the one at the solution.
    foot.converged = largest < 1e-7 && residual.squaredNorm() < 1e-13 * length2;
    const bool far_outside = foot.b.minCoeff() < -2;
    if (foot.converged || far_outside) return foot;
  }
  return foot;
}

CurvedContact contact_at(const CurvedFacet& facet, int number, const Foot& foot) {
  CurvedContact contact;
  contact.facet = number;
  contact.gap = foot.gap;
  contact.normal = facet.unit_normal(foot.b);
  const Eigen::Matrix3d gradient = foot.normal_slopes * foot.inverse.topRows<2>();
  contact.normal_gradient = 0.5 * (gradient + gradient.transpose());
  return contact;
}

/// Order of the sides to leave by: the most violated first.
std::array<int, 3> by_violation(const Eigen::Vector3d& b) {
  std::array<int, 3> order{0, 1, 2};
  std::sort(order.begin(), order.end(), [&](int i, int j) { return b(i) < b(j); });
  return order;
}

/// Starting point in the facet across a side: the same place on the common side.
Eigen::Vector3d carried_over(const CurvedFacet& from, const Eigen::Vector3d& b, int side,
                             const CurvedFacet& to) {
  const auto j = static_cast<std::size_t>((side + 1) % 3);
  const auto k = static_cast<std::size_t>((side + 2) % 3);
  const double sum = b(static_cast<int>(j)) + b(static_cast<int>(k));
  const double s = sum > 0 ? std::clamp(b(static_cast<int>(k)) / sum, 0.0, 1.0) : 0.5;
  Eigen::Vector3d start = Eigen::Vector3d::Zero();
  for (int i = 0; i < 3; ++i) {
    if (to.corner[static_cast<std::size_t>(i)] == from.corner[j]) start(i) = 1 - s;
    if (to.corner[static_cast<std::size_t>(i)] == from.corner[k]) start(i) = s;
  }
  return start;
}

Walk walk_from(const FacetNet& net, int facet, Eigen::Vector3d start, const Eigen::Vector3d& x) {
  int previous = -1;
  Walk walk;
  for (int hop = 0; hop < max_hops; ++hop) {
    const auto& patch = net.facets[static_cast<std::size_t>(facet)];
    const auto& sides = net.sides[static_cast<std::size_t>(facet)];
    const Foot foot = foot_on(patch, x, start);
    walk.facet = facet;
    const double worst = foot.b.minCoeff();
    if (worst >= -inside_tolerance) {
      if (!foot.converged) return walk;
      walk.end = Walk::End::inside;
      walk.contact = contact_at(patch, facet, foot);
      return walk;
    }
    int next = -1;
    walk.sharp_edge = -1;
    for (const int side : by_violation(foot.b)) {
      if (foot.b(side) >= -inside_tolerance) break;
      const int across = sides.smooth[static_cast<std::size_t>(side)];
      if (across >= 0) {
        next = across;
        start = carried_over(patch, foot.b, side, net.facets[static_cast<std::size_t>(across)]);
        break;
      }
      if (walk.sharp_edge < 0) walk.sharp_edge = sides.sharp[static_cast<std::size_t>(side)];
    }
    if (next < 0) {
      walk.end = Walk::End::at_sharp_edge;
      return walk;
    }
    // Two facets that each point to the other hold x on their common side to within rounding.
    if (next == previous && foot.converged && worst > -1e-6) {
      walk.end = Walk::End::inside;
      walk.contact = contact_at(patch, facet, foot);
      return walk;
    }
    previous = facet;
    facet = next;
  }
  walk.end = Walk::End::failed;
  return walk;
}

/// Parameter of the point of an edge curve nearest to x; may lie outside [0, 1].
double nearest_parameter(const SharpEdge& edge, const Eigen::Vector3d& x) {
  const Eigen::Vector3d chord = edge.b - edge.a;
  double s = std::clamp((x - edge.a).dot(chord) / chord.squaredNorm(), -0.5, 1.5);
  const Eigen::Vector3d bend = edge.bend();
  for (int i = 0; i < 8; ++i) {
    const Eigen::Vector3d slope = edge.slope(s);
    const Eigen::Vector3d away = edge.point(s) - x;
    const double curvature = std::max(slope.squaredNorm() + away.dot(bend), 0.1 * slope.squaredNorm());
    const double step = -away.dot(slope) / curvature;
    s += std::clamp(step, -0.5, 0.5);
    if (std::abs(step) < 1e-14) break;
  }
  return s;
}

/// Contact with a point of an edge (along the given slope) or with a corner (slope zero).
CurvedContact edge_contact(const SharpEdge& edge, const Eigen::Vector3d& foot, const Eigen::Vector3d& slope,
                           const Eigen::Vector3d& x) {
  CurvedContact contact;
  contact.facet = edge.facets[0];
  const Eigen::Vector3d away = x - foot;
  const double distance = away.norm();
  const double sign = away.dot(edge.outward) < 0 ? -1 : 1;
  contact.gap = sign * distance;
  contact.normal = distance > 1e-12 ? Eigen::Vector3d(sign * away / distance) : edge.outward;
  const Eigen::Vector3d& n = contact.normal;
  Eigen::Matrix3d gradient = Eigen::Matrix3d::Identity() - n * n.transpose();
  if (slope.squaredNorm() > 0) {
    gradient -= slope * slope.transpose() / std::max(slope.squaredNorm() - away.dot(edge.bend()), 1e-30);
  }
  contact.normal_gradient = sign * gradient / std::max(distance, 1e-6);
  return contact;
}

/// Slides along the net of sharp edges to the place nearest to x.
std::optional<CurvedContact> contact_with_edges(const FacetNet& net, int first, const Eigen::Vector3d& x) {
  int edge = first;
  for (int hop = 0; hop < max_hops; ++hop) {
    const auto& current = net.sharp_edges[static_cast<std::size_t>(edge)];
    if (current.is_border()) return std::nullopt;
    const double s = nearest_parameter(current, x);
    if (s >= 0 && s <= 1) return edge_contact(current, current.point(s), current.slope(s), x);
    const int corner = s < 0 ? current.tail : current.head;
    const Eigen::Vector3d at_corner = s < 0 ? current.a : current.b;
    double best = (at_corner - x).squaredNorm() * (1 - 1e-12);
    int next = -1;
    for (const int candidate : net.sharp_edges_at[static_cast<std::size_t>(corner)]) {
      const auto& other = net.sharp_edges[static_cast<std::size_t>(candidate)];
      const double r = std::clamp(nearest_parameter(other, x), 0.0, 1.0);
      const double distance = (other.point(r) - x).squaredNorm();
      if (candidate != edge && distance < best) {
        best = distance;
        next = candidate;
      }
    }
    if (next < 0) return edge_contact(current, at_corner, Eigen::Vector3d::Zero(), x);
    edge = next;
  }
  return std::nullopt;
}

/// Contact with the flat triangle itself, where the curved facets gave no sensible answer.
CurvedContact flat_contact(const FacetNet& net, const ClosestTriangle& start, const Eigen::Vector3d& x) {
  const auto& facet = net.facets[static_cast<std::size_t>(start.triangle)];
  CurvedContact contact;
  contact.facet = start.triangle;
  contact.normal = facet.unit_normal(start.barycentric);
  Eigen::Vector3d foot = Eigen::Vector3d::Zero();
  for (int i = 0; i < 3; ++i) foot += start.barycentric(i) * facet.corner[static_cast<std::size_t>(i)];
  const Eigen::Vector3d away = x - foot;
  const double sign = away.dot(contact.normal) < 0 ? -1 : 1;
  contact.gap = sign * start.distance;
  contact.normal_gradient.setZero();
  if (start.distance > 1e-9) contact.normal = sign * away / start.distance;
  return contact;
}

}  // namespace

std::optional<CurvedContact> find_contact(const FacetNet& net, const ClosestTriangle& start,
                                          const Eigen::Vector3d& x) {
  const auto reasonable = [&](const CurvedContact& contact) {
    return std::abs(contact.gap) <= 1.05 * start.distance + 2 * net.largest_bulge + 1e-9;
  };
  Walk walk = walk_from(net, start.triangle, start.barycentric, x);
  if (walk.end == Walk::End::inside && reasonable(walk.contact)) return walk.contact;
  if (walk.end == Walk::End::at_sharp_edge) {
    const auto& edge = net.sharp_edges[static_cast<std::size_t>(walk.sharp_edge)];
    if (edge.is_border()) return std::nullopt;
    const int across = walk.facet == edge.facets[0] ? edge.facets[1] : edge.facets[0];
    const Walk second = walk_from(net, across, Eigen::Vector3d::Constant(1.0 / 3), x);
    if (second.end == Walk::End::inside && reasonable(second.contact)) return second.contact;
    auto contact = contact_with_edges(net, walk.sharp_edge, x);
    if (!contact || reasonable(*contact)) return contact;
  }
  return flat_contact(net, start, x);
}

}  // namespace halftool::mesh
