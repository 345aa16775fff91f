#pragma once
#include <map>
#include <vector>

#include "mesh/gmsh_session.hpp"

namespace halftool::mesh {

/// Edge lengths along the CAD curves that suit the curvature of the faces on both sides. Gmsh's own curvature
/// option looks at the curve alone there, and leaves the border of a fillet along a nearly straight edge far
/// too coarse.
class CurveSizes {
 public:
  /// @param turn  wanted turn of the normal along an edge [rad]
  CurveSizes(const GmshSession& session, const std::vector<int>& surfaces, double turn);

  /// Size function for GmshSession::generate_surface_mesh; leaves the inside of faces to other options.
  [[nodiscard]] double at(int dimension, int tag, const Eigen::Vector3d& x) const;
  /// What each curved face at a curve wants there at least: face and edge length [mm].
  [[nodiscard]] const std::map<int, double>& demands_on(int curve) const;

 private:
  struct Samples {
    std::vector<Eigen::Vector3d> points;
    std::vector<double> sizes;
    std::map<int, double> smallest;  ///< by face
  };
  void sample(int curve, const std::vector<int>& surfaces, double turn);
  [[nodiscard]] static double nearest(const Samples& samples, const Eigen::Vector3d& x, double within);

  std::map<int, Samples> curves_;
};

}  // namespace halftool::mesh
