#include "solver/assessment/bend_limit.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <limits>

#include "solver/assessment/point_cubes.hpp"

namespace halftool::solver {
namespace {

constexpr double kBent = 1.0 / 3;      // least part of bending in the strain of a face
constexpr double kEdgeZone = 3;        // of cut edges, over the thickness
constexpr double kReach = 5;           // to the bend farther in, over the thickness
constexpr double kSameTurn = 0.966;    // cosine of 15 degrees between normals along a bend
constexpr double kEdgeSamples = 0.25;  // spacing of points on edges, over the thickness
constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

/// Middles, areas and unit normals of the triangles.
struct Places {
  Eigen::MatrixX3d middles, normals;
  Eigen::VectorXd areas;

  explicit Places(const SheetFields& fields) {
    const Eigen::Index n = fields.triangles.rows();
    middles.resize(n, 3);
    normals.resize(n, 3);
    areas.resize(n);
    for (Eigen::Index t = 0; t < n; ++t) {
      const auto corner = [&](int i) -> Eigen::Vector3d {
        return fields.positions.row(fields.triangles(t, i));
      };
      const Eigen::Vector3d across = (corner(1) - corner(0)).cross(corner(2) - corner(0));
      middles.row(t) = (corner(0) + corner(1) + corner(2)) / 3;
      areas(t) = across.norm() / 2;
      normals.row(t) = across.normalized();
    }
  }
};

Eigen::MatrixX2d means_of_bent_faces(const SheetFields& fields, const Places& places, double distance) {
  const Eigen::Index n = places.areas.size();
  Eigen::MatrixX3d majors(n, 3);
  majors << fields.strain_outer.col(0), fields.strain_inner.col(0), fields.strain_mid.col(0);
  Eigen::MatrixX2d faces = Eigen::MatrixX2d::Constant(n, 2, kNone);
  const PointCubes cubes(places.middles, distance);
  for (Eigen::Index t = 0; t < n; ++t) {
    Eigen::RowVector3d mean = Eigen::RowVector3d::Zero();
    double area = 0;
    cubes.near(places.middles.row(t), [&](Eigen::Index other) {
      if ((places.middles.row(other) - places.middles.row(t)).norm() > distance) return false;
      mean += places.areas(other) * majors.row(other);
      area += places.areas(other);
      return false;
    });
    mean /= area;
    for (int face = 0; face < 2; ++face)
      if (mean(face) > 0 && mean(face) - mean(2) >= kBent * mean(face)) faces(t, face) = mean(face);
  }
  return faces;
}

Eigen::MatrixX3d points_on(const std::vector<EdgeStrain>& edges, double spacing) {
  std::vector<Eigen::Vector3d> points;
  for (const EdgeStrain& edge : edges) {
    const Eigen::Vector3d along = edge.ends[1] - edge.ends[0];
    const int n = 1 + static_cast<int>(along.norm() / spacing);
    for (int i = 0; i <= n; ++i) points.emplace_back(edge.ends[0] + static_cast<double>(i) / n * along);
  }
  Eigen::MatrixX3d rows(points.size(), 3);
  for (std::size_t i = 0; i < points.size(); ++i) rows.row(static_cast<Eigen::Index>(i)) = points[i];
  return rows;
}

std::vector<bool> within(const Eigen::MatrixX3d& middles, const Eigen::MatrixX3d& points, double distance) {
  const PointCubes cubes(points, distance);
  std::vector<bool> inside(static_cast<std::size_t>(middles.rows()), false);
  for (Eigen::Index t = 0; t < middles.rows(); ++t)
    cubes.near(middles.row(t), [&](Eigen::Index point) {
      const bool is_near = (points.row(point) - middles.row(t)).norm() <= distance;
      if (is_near) inside[static_cast<std::size_t>(t)] = true;
      return is_near;
    });
  return inside;
}

/// Whether the bend goes on farther in, turned as far as here.
bool goes_on(const Places& places, const PointCubes& cubes, const Eigen::MatrixX2d& faces,
             const std::vector<bool>& at_edge, Eigen::Index t, int face, double reach) {
  bool found = false;
  cubes.near(places.middles.row(t), [&](Eigen::Index other) {
    found = !at_edge[static_cast<std::size_t>(other)] && !std::isnan(faces(other, face)) &&
            (places.middles.row(other) - places.middles.row(t)).norm() <= reach &&
            places.normals.row(other).dot(places.normals.row(t)) >= kSameTurn;
    return found;
  });
  return found;
}

}  // namespace

double bend_limit_strain(double radius_over_thickness) {
  return std::log1p(1 / (2 * radius_over_thickness + 1));
}

BentFaces bent_faces(const SheetFields& fields, const std::vector<EdgeStrain>& edges) {
  const Eigen::Index n = fields.strain_mid.rows();
  BentFaces bent{Eigen::MatrixX2d::Constant(n, 2, kNone), Eigen::MatrixX2d::Constant(n, 2, kNone)};
  if (n == 0) return bent;
  const double thickness = fields.thickness.maxCoeff();
  const Places places(fields);
  const Eigen::MatrixX2d faces = means_of_bent_faces(fields, places, thickness);
  const auto at_edge =
      within(places.middles, points_on(edges, kEdgeSamples * thickness), kEdgeZone * thickness);
  const double reach = kReach * thickness;
  const PointCubes cubes(places.middles, reach);
  for (Eigen::Index t = 0; t < n; ++t)
    for (int face = 0; face < 2; ++face) {
      if (std::isnan(faces(t, face))) continue;
      const bool beside =
          at_edge[static_cast<std::size_t>(t)] && goes_on(places, cubes, faces, at_edge, t, face, reach);
      (beside ? bent.beside_edges : bent.judged)(t, face) = faces(t, face);
    }
  return bent;
}

BentFibre worst_bend(const Eigen::MatrixX2d& faces) {
  BentFibre worst;
  for (Eigen::Index t = 0; t < faces.rows(); ++t)
    for (int face = 0; face < 2; ++face)
      if (faces(t, face) > worst.strain) worst = {static_cast<int>(t), faces(t, face)};
  return worst;
}

}  // namespace halftool::solver
