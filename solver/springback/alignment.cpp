#include "solver/springback/alignment.hpp"

#include <Eigen/Geometry>
#include <Eigen/SVD>
#include <algorithm>
#include <vector>

namespace halftool::solver {
namespace {

Eigen::VectorXd node_weights(const mesh::SurfaceMesh& mesh) {
  Eigen::VectorXd weight = Eigen::VectorXd::Zero(mesh.n_nodes());
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Eigen::Vector3d a = mesh.nodes.row(mesh.triangles(t, 0));
    const Eigen::Vector3d b = mesh.nodes.row(mesh.triangles(t, 1));
    const Eigen::Vector3d c = mesh.nodes.row(mesh.triangles(t, 2));
    const double share = (b - a).cross(c - a).norm() / 6;
    for (int i = 0; i < 3; ++i) weight(mesh.triangles(t, i)) += share;
  }
  return weight;
}

// The mirror images that make the computed piece whole.
std::vector<Eigen::RowVector3d> mirrors(const mesh::Blank& blank) {
  bool x = false;
  bool y = false;
  for (const mesh::EdgeKind kind : blank.edge_kind) {
    x = x || kind == mesh::EdgeKind::symmetry_x;
    y = y || kind == mesh::EdgeKind::symmetry_y;
  }
  std::vector<Eigen::RowVector3d> all{{1, 1, 1}};
  if (x) all.emplace_back(-1, 1, 1);
  if (y) all.emplace_back(1, -1, 1);
  if (x && y) all.emplace_back(-1, -1, 1);
  return all;
}

struct Moments {
  double weight = 0;
  Eigen::Vector3d formed = Eigen::Vector3d::Zero();
  Eigen::Vector3d released = Eigen::Vector3d::Zero();
  Eigen::Matrix3d cross = Eigen::Matrix3d::Zero();  // released * formed^T about the origin
};

}  // namespace

Fit best_fit(const mesh::Blank& blank, const mesh::Points& formed, const mesh::Points& released) {
  const Eigen::VectorXd weight = node_weights(blank.mesh);
  Moments m;
  for (const Eigen::RowVector3d& mirror : mirrors(blank))
    for (Eigen::Index node = 0; node < formed.rows(); ++node) {
      const Eigen::Vector3d to = formed.row(node).cwiseProduct(mirror).transpose();
      const Eigen::Vector3d from = released.row(node).cwiseProduct(mirror).transpose();
      m.weight += weight(node);
      m.formed += weight(node) * to;
      m.released += weight(node) * from;
      m.cross += weight(node) * from * to.transpose();
    }
  const Eigen::Vector3d to_centre = m.formed / m.weight;
  const Eigen::Vector3d from_centre = m.released / m.weight;
  const Eigen::Matrix3d covariance = m.cross / m.weight - from_centre * to_centre.transpose();
  const Eigen::JacobiSVD<Eigen::Matrix3d> svd(covariance, Eigen::ComputeFullU | Eigen::ComputeFullV);
  Eigen::Vector3d handed(1, 1, (svd.matrixV() * svd.matrixU().transpose()).determinant() < 0 ? -1 : 1);
  const Eigen::Matrix3d rotation = svd.matrixV() * handed.asDiagonal() * svd.matrixU().transpose();

  Fit fit;
  fit.positions = ((released.rowwise() - from_centre.transpose()) * rotation.transpose()).rowwise() +
                  to_centre.transpose();
  fit.distance = (fit.positions - formed).rowwise().norm();
  fit.rms = std::sqrt(weight.dot(fit.distance.cwiseAbs2()) / weight.sum());
  Eigen::Index worst = 0;
  fit.largest = fit.distance.maxCoeff(&worst);
  fit.largest_at = formed.row(worst).transpose();
  return fit;
}

}  // namespace halftool::solver
