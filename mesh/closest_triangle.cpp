#include "mesh/closest_triangle.hpp"

#include <embree3/rtcore.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <vector>

#include "mesh/search_device.hpp"

namespace halftool::mesh {
namespace {

/// Closest point of the segment from a to b: its parameter in [0, 1].
double closest_on_segment(const Eigen::Vector3d& x, const Eigen::Vector3d& a, const Eigen::Vector3d& b) {
  const Eigen::Vector3d ab = b - a;
  const double length2 = ab.squaredNorm();
  if (length2 <= 0) return 0;
  return std::clamp((x - a).dot(ab) / length2, 0.0, 1.0);
}

/// Closest point of the three sides; for triangles without area.
Eigen::Vector3d closest_on_sides(const Eigen::Vector3d& x, const std::array<Eigen::Vector3d, 3>& p) {
  Eigen::Vector3d best = Eigen::Vector3d::UnitX();
  double best_distance = std::numeric_limits<double>::infinity();
  for (int i = 0; i < 3; ++i) {
    const int j = (i + 1) % 3;
    const auto& a = p[static_cast<std::size_t>(i)];
    const auto& b = p[static_cast<std::size_t>(j)];
    const double s = closest_on_segment(x, a, b);
    const double distance = (x - a - s * (b - a)).squaredNorm();
    if (distance < best_distance) {
      best_distance = distance;
      best.setZero();
      best(i) = 1 - s;
      best(j) = s;
    }
  }
  return best;
}

}  // namespace

Eigen::Vector3d closest_in_triangle(const Eigen::Vector3d& x, const std::array<Eigen::Vector3d, 3>& corners) {
  const Eigen::Vector3d ab = corners[1] - corners[0];
  const Eigen::Vector3d ac = corners[2] - corners[0];
  const bool has_area = ab.cross(ac).squaredNorm() > 1e-24 * ab.squaredNorm() * ac.squaredNorm();
  if (!has_area) return closest_on_sides(x, corners);
  const Eigen::Vector3d ax = x - corners[0];
  const double d1 = ab.dot(ax), d2 = ac.dot(ax);
  if (d1 <= 0 && d2 <= 0) return {1, 0, 0};
  const Eigen::Vector3d bx = x - corners[1];
  const double d3 = ab.dot(bx), d4 = ac.dot(bx);
  if (d3 >= 0 && d4 <= d3) return {0, 1, 0};
  const double c = d1 * d4 - d3 * d2;
  if (c <= 0 && d1 >= 0 && d3 <= 0 && d1 > d3) {
    const double s = d1 / (d1 - d3);
    return {1 - s, s, 0};
  }
  const Eigen::Vector3d cx = x - corners[2];
  const double d5 = ab.dot(cx), d6 = ac.dot(cx);
  if (d6 >= 0 && d5 <= d6) return {0, 0, 1};
  const double b = d5 * d2 - d1 * d6;
  if (b <= 0 && d2 >= 0 && d6 <= 0 && d2 > d6) {
    const double s = d2 / (d2 - d6);
    return {1 - s, 0, s};
  }
  const double a = d3 * d6 - d5 * d4;
  if (a <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0 && (d4 - d3) + (d5 - d6) > 0) {
    const double s = (d4 - d3) / ((d4 - d3) + (d5 - d6));
    return {0, 1 - s, s};
  }
  const double sum = a + b + c;
  return {a / sum, b / sum, c / sum};
}

namespace {

/// A triangle and the disc about its centroid that holds it.
struct alignas(64) BoundedTriangle {
  Eigen::Vector3d centre, normal;  ///< normal zero for a triangle without area, whose disc is a ball
  double radius = 0;               ///< [mm]
  std::array<Eigen::Vector3d, 3> corners;

  explicit BoundedTriangle(const std::array<Eigen::Vector3d, 3>& p)
      : centre((p[0] + p[1] + p[2]) / 3), normal((p[1] - p[0]).cross(p[2] - p[0])), corners(p) {
    const double size = normal.norm();
    for (const auto& corner : p) radius = std::max(radius, (corner - centre).norm());
    if (size > 1e-12 * radius * radius)
      normal /= size;
    else
      normal.setZero();
  }

  /// Whether all of the disc is farther from x than a distance, by more than rounding.
  [[nodiscard]] bool beyond(const Eigen::Vector3d& x, double distance) const {
    const Eigen::Vector3d away = x - centre;
    const double height = away.dot(normal);
    const double height2 = height * height;
    const double limit2 = distance * distance * (1 + 1e-9);
    if (height2 > limit2) return true;
    const double rim = radius + std::sqrt(limit2 - height2);
    return away.squaredNorm() - height2 > rim * rim * (1 + 1e-9);
  }
};

}  // namespace

struct TriangleTree::Data {
  std::vector<BoundedTriangle> triangles;
  double largest_coordinate = 0;
  std::shared_ptr<RTCDeviceTy> device;  // outlives the scene
  RTCScene scene = nullptr;

  ~Data() {
    if (scene != nullptr) rtcReleaseScene(scene);
  }
};

namespace {

struct Search {
  const std::vector<BoundedTriangle>* triangles;
  Eigen::Vector3d x;
  double rounding;  ///< of single-precision coordinates [mm]
  ClosestTriangle best;

  /// Takes a triangle if it is the nearest so far, of those alike the first.
  bool take(int triangle) {
    const BoundedTriangle& candidate = (*triangles)[static_cast<std::size_t>(triangle)];
    if (candidate.beyond(x, best.distance)) return false;
    const auto& p = candidate.corners;
    const Eigen::Vector3d b = closest_in_triangle(x, p);
    const double distance = (x - b(0) * p[0] - b(1) * p[1] - b(2) * p[2]).norm();
    if (distance > best.distance ||
        (distance == best.distance && best.triangle >= 0 && best.triangle <= triangle)) {
      return false;
    }
    best = {triangle, b, distance};
    return true;
  }
};

/// What the last search of this thread found: the next one is mostly near. It narrows the search from the
/// start and changes nothing of the answer.
struct LastFound {
  const void* tree = nullptr;
  int triangle = 0;
};
thread_local LastFound last_found;

/// The tree works in single precision, so what it prunes is kept a little wider than what has been found.
float widened(double radius, double rounding) {
  return static_cast<float>(radius * (1 + 1e-6) + rounding);
}

bool visit(RTCPointQueryFunctionArguments* arguments) {
  auto& search = *static_cast<Search*>(arguments->userPtr);
  if (!search.take(static_cast<int>(arguments->primID))) return false;
  arguments->query->radius = widened(search.best.distance, search.rounding);
  return true;
}

}  // namespace

TriangleTree::TriangleTree(const SurfaceMesh& mesh) : data_(std::make_unique<Data>()) {
  data_->triangles.reserve(static_cast<std::size_t>(mesh.n_triangles()));
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const auto nodes = mesh.triangles.row(t);
    data_->triangles.emplace_back(std::array<Eigen::Vector3d, 3>{
        mesh.nodes.row(nodes(0)), mesh.nodes.row(nodes(1)), mesh.nodes.row(nodes(2))});
  }
  data_->largest_coordinate = mesh.nodes.size() > 0 ? mesh.nodes.cwiseAbs().maxCoeff() : 0;
  data_->device = search_device();
  const RTCDevice device = data_->device.get();
  data_->scene = rtcNewScene(device);
  rtcSetSceneFlags(data_->scene, RTC_SCENE_FLAG_ROBUST);
  const RTCGeometry geometry = rtcNewGeometry(device, RTC_GEOMETRY_TYPE_TRIANGLE);
  auto* vertices = static_cast<float*>(rtcSetNewGeometryBuffer(
      geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), mesh.nodes.rows()));
  auto* indices = static_cast<unsigned*>(rtcSetNewGeometryBuffer(
      geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof(unsigned), mesh.triangles.rows()));
  for (Eigen::Index i = 0; i < mesh.nodes.size(); ++i) vertices[i] = static_cast<float>(mesh.nodes.data()[i]);
  for (Eigen::Index i = 0; i < mesh.triangles.size(); ++i) {
    indices[i] = static_cast<unsigned>(mesh.triangles.data()[i]);
  }
  rtcCommitGeometry(geometry);
  rtcAttachGeometry(data_->scene, geometry);
  rtcReleaseGeometry(geometry);
  rtcCommitScene(data_->scene);
  if (rtcGetDeviceError(device) != RTC_ERROR_NONE) {
    throw MeshError("the search tree of the tool could not be built (Embree)");
  }
}

TriangleTree::~TriangleTree() = default;
TriangleTree::TriangleTree(TriangleTree&&) noexcept = default;
TriangleTree& TriangleTree::operator=(TriangleTree&&) noexcept = default;

std::optional<ClosestTriangle> TriangleTree::closest(const Eigen::Vector3d& x, double radius,
                                                     int likely) const {
  const double largest = std::max(data_->largest_coordinate, x.cwiseAbs().maxCoeff());
  Search search{&data_->triangles, x, 4e-7 * largest, {}};
  search.best.distance = radius;
  if (likely < 0 && last_found.tree == data_.get()) likely = last_found.triangle;
  if (likely >= 0 && likely < static_cast<int>(data_->triangles.size())) search.take(likely);
  RTCPointQuery query;
  const Eigen::Vector3f xf = x.cast<float>();
  query.x = xf.x();
  query.y = xf.y();
  query.z = xf.z();
  query.time = 0;
  query.radius = widened(search.best.distance, search.rounding);
  RTCPointQueryContext context;
  rtcInitPointQueryContext(&context);
  rtcPointQuery(data_->scene, &query, &context, visit, &search);
  if (search.best.triangle < 0) return std::nullopt;
  last_found = {data_.get(), search.best.triangle};
  return search.best;
}

std::optional<RayHit> TriangleTree::first_hit(const Eigen::Vector3d& origin, const Eigen::Vector3d& direction,
                                              double from) const {
  RTCRayHit query{};
  const Eigen::Vector3f o = origin.cast<float>(), d = direction.cast<float>();
  query.ray.org_x = o.x();
  query.ray.org_y = o.y();
  query.ray.org_z = o.z();
  query.ray.dir_x = d.x();
  query.ray.dir_y = d.y();
  query.ray.dir_z = d.z();
  query.ray.tnear = static_cast<float>(from);
  query.ray.tfar = std::numeric_limits<float>::infinity();
  query.ray.mask = ~0U;
  query.hit.geomID = RTC_INVALID_GEOMETRY_ID;
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  rtcIntersect1(data_->scene, &context, &query);
  if (query.hit.geomID == RTC_INVALID_GEOMETRY_ID) return std::nullopt;
  const auto& p = data_->triangles[query.hit.primID].corners;
  const Eigen::Vector3d normal = (p[1] - p[0]).cross(p[2] - p[0]);
  const double along = normal.dot(direction);
  const bool grazing = std::abs(along) < 1e-9 * normal.norm();
  const double distance = grazing ? static_cast<double>(query.ray.tfar) : normal.dot(p[0] - origin) / along;
  return RayHit{static_cast<int>(query.hit.primID), distance};
}

}  // namespace halftool::mesh
