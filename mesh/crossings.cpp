#include "mesh/crossings.hpp"

#include <embree3/rtcore.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>
#include <numbers>
#include <sstream>
#include <vector>

#include "mesh/edge_uses.hpp"
#include "mesh/facet_repair.hpp"
#include "mesh/open_seams.hpp"
#include "mesh/search_device.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector3d;
using Corners = std::array<Vector3d, 3>;

Corners corners_of(const SurfaceMesh& mesh, int t) {
  return {mesh.nodes.row(mesh.triangles(t, 0)), mesh.nodes.row(mesh.triangles(t, 1)),
          mesh.nodes.row(mesh.triangles(t, 2))};
}

/// Whether the way from a to b passes through a triangle, beyond its plane and within its sides by more than
/// the tolerance [mm].
bool passes_through(const Vector3d& a, const Vector3d& b, const Corners& corners, double tolerance) {
  const Vector3d area = (corners[1] - corners[0]).cross(corners[2] - corners[0]);
  const Vector3d normal = area.normalized();
  const double from = normal.dot(a - corners[0]);
  const double to = normal.dot(b - corners[0]);
  if (from * to >= 0 || std::min(std::abs(from), std::abs(to)) <= tolerance) return false;
  const Vector3d x = a + from / (from - to) * (b - a);
  for (std::size_t i = 0; i < 3; ++i) {
    const Vector3d side = corners[(i + 1) % 3] - corners[i];
    if (normal.dot(side.cross(x - corners[i])) <= tolerance * side.norm()) return false;
  }
  return true;
}

/// What the callbacks of the tree need, and what they found.
struct Search {
  const SurfaceMesh& mesh;
  double tolerance;
  std::mutex lock;
  std::vector<std::array<int, 2>> crossing = {};
};

bool share(const SurfaceMesh& mesh, int t, int node) {
  return (mesh.triangles.row(t).array() == node).any();
}

/// Whether a side of facet t passes through facet u; sides that end in a corner of u only touch it.
bool pierces(const Search& search, int t, int u) {
  const Corners own = corners_of(search.mesh, t);
  const Corners other = corners_of(search.mesh, u);
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3;
    if (share(search.mesh, u, search.mesh.triangles(t, i)) ||
        share(search.mesh, u, search.mesh.triangles(t, j)))
      continue;
    if (passes_through(own[static_cast<std::size_t>(i)], own[static_cast<std::size_t>(j)], other,
                       search.tolerance))
      return true;
  }
  return false;
}

void give_bounds(const RTCBoundsFunctionArguments* arguments) {
  const auto& search = *static_cast<const Search*>(arguments->geometryUserPtr);
  const Corners corners = corners_of(search.mesh, static_cast<int>(arguments->primID));
  const Vector3d low = corners[0].cwiseMin(corners[1]).cwiseMin(corners[2]);
  const Vector3d high = corners[0].cwiseMax(corners[1]).cwiseMax(corners[2]);
  const auto down = [&](double x) { return static_cast<float>(x - search.tolerance); };
  const auto up = [&](double x) { return static_cast<float>(x + search.tolerance); };
  RTCBounds& bounds = *arguments->bounds_o;
  bounds.lower_x = down(low.x());
  bounds.lower_y = down(low.y());
  bounds.lower_z = down(low.z());
  bounds.upper_x = up(high.x());
  bounds.upper_y = up(high.y());
  bounds.upper_z = up(high.z());
}

void look_at_pairs(void* user, RTCCollision* pairs, unsigned n) {
  auto& search = *static_cast<Search*>(user);
  for (unsigned i = 0; i < n; ++i) {
    const auto t = static_cast<int>(pairs[i].primID0);
    const auto u = static_cast<int>(pairs[i].primID1);
    if (t >= u || !(pierces(search, t, u) || pierces(search, u, t))) continue;
    const std::lock_guard guard(search.lock);
    search.crossing.push_back({t, u});
  }
}

void find_crossings(Search& search) {
  const std::shared_ptr<RTCDeviceTy> shared = search_device();
  const RTCDevice device = shared.get();
  const RTCScene scene = rtcNewScene(device);
  const RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_USER);
  rtcSetGeometryUserPrimitiveCount(geometry, static_cast<unsigned>(search.mesh.n_triangles()));
  rtcSetGeometryUserData(geometry, &search);
  rtcSetGeometryBoundsFunction(
      geometry, [](const RTCBoundsFunctionArguments* arguments) { give_bounds(arguments); }, nullptr);
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(scene, geometry);
  rtcReleaseGeometry(geometry);
  rtcCommitScene(scene);
  rtcCollide(scene, scene, look_at_pairs, &search);
  const bool failed = rtcGetDeviceError(device) != RTC_ERROR_NONE;
  rtcReleaseScene(scene);
  if (failed) throw MeshError("the test for crossings failed (Embree)");
}

/// Share of the full sphere under which a triangle is seen from x, with its sign.
double solid_angle(const Vector3d& x, const Corners& corners) {
  const Vector3d a = corners[0] - x, b = corners[1] - x, c = corners[2] - x;
  const double la = a.norm(), lb = b.norm(), lc = c.norm();
  const double below = la * lb * lc + a.dot(b) * lc + b.dot(c) * la + c.dot(a) * lb;
  return std::atan2(a.dot(b.cross(c)), below) / (2 * std::numbers::pi);
}

struct Piece {
  std::vector<int> facets;
  bool closed = true;
};

std::vector<Piece> pieces_of(const SurfaceMesh& mesh) {
  const EdgeUses uses = find_edge_uses(mesh);
  const std::vector<int> piece_of = find_pieces(mesh, uses);
  std::vector<Piece> pieces(static_cast<std::size_t>(*std::max_element(piece_of.begin(), piece_of.end())) +
                            1);
  for (std::size_t t = 0; t < piece_of.size(); ++t) {
    pieces[static_cast<std::size_t>(piece_of[t])].facets.push_back(static_cast<int>(t));
  }
  for (const auto& [nodes, facets] : uses) {
    if (facets.size() == 1)
      pieces[static_cast<std::size_t>(piece_of[static_cast<std::size_t>(facets[0])])].closed = false;
  }
  return pieces;
}

/// Where facets cross because the banks of an open seam overlap, the seam is what is to be mended.
void refuse_crossing_banks(const SurfaceMesh& mesh, const std::vector<std::array<int, 2>>& crossing) {
  std::vector<bool> crosses(static_cast<std::size_t>(mesh.n_triangles()), false);
  for (const auto& pair : crossing)
    for (const int t : pair) crosses[static_cast<std::size_t>(t)] = true;
  const EdgeUses uses = find_edge_uses(mesh);
  const auto seam = find_open_seam(mesh, uses, find_border(uses, crosses));
  if (!seam) return;
  throw MeshError("the tool's surface has banks that cross one another (" + std::to_string(crossing.size()) +
                  " pairs of facets) at " + describe(*seam, extent_of(mesh)));
}

}  // namespace

std::vector<std::array<int, 2>> crossing_facets(const SurfaceMesh& mesh, double tolerance) {
  Search search{mesh, tolerance, {}};
  find_crossings(search);
  std::sort(search.crossing.begin(), search.crossing.end());
  return search.crossing;
}

void refuse_crossings(const SurfaceMesh& mesh) {
  const auto crossing = crossing_facets(mesh, 5 * weld_share * extent_of(mesh));
  if (crossing.empty()) return;
  refuse_crossing_banks(mesh, crossing);
  const auto first = crossing.front();
  const Corners a = corners_of(mesh, first[0]);
  const Corners b = corners_of(mesh, first[1]);
  const Vector3d x = (a[0] + a[1] + a[2]) / 3, y = (b[0] + b[1] + b[2]) / 3;
  std::ostringstream text;
  text << "the tool's surface crosses itself (" << crossing.size()
       << " pairs of facets), for one where the facets about (" << x.x() << ", " << x.y() << ", " << x.z()
       << ") and (" << y.x() << ", " << y.y() << ", " << y.z()
       << ") mm meet: unite the bodies in the CAD model and export them as one";
  throw MeshError(text.str());
}

void refuse_nested_pieces(const SurfaceMesh& mesh) {
  const std::vector<Piece> pieces = pieces_of(mesh);
  if (pieces.size() == 1) return;
  for (std::size_t inner = 0; inner < pieces.size(); ++inner) {
    const Vector3d x = mesh.nodes.row(mesh.triangles(pieces[inner].facets.front(), 0));
    for (std::size_t outer = 0; outer < pieces.size(); ++outer) {
      if (outer == inner || !pieces[outer].closed) continue;
      double winding = 0;
      for (const int t : pieces[outer].facets) winding += solid_angle(x, corners_of(mesh, t));
      if (std::abs(winding) < 0.5) continue;
      std::ostringstream text;
      text << "a piece of the tool's surface lies within another, about (" << x.x() << ", " << x.y() << ", "
           << x.z() << ") mm: leave out the inner one and export the tool half again";
      throw MeshError(text.str());
    }
  }
}

}  // namespace halftool::mesh
