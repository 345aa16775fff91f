#pragma once
#include <Eigen/Core>
#include <array>

namespace halftool::solver {

/// Unknowns of one triangle, in this order: positions of nodes 0, 1, 2 (9), turn angles of the edges facing nodes
/// 0, 1, 2 (3) [rad], in-plane mid-side displacements of the same edges (3) [mm].
inline constexpr int kTriangleUnknowns = 15;
using TriangleVector = Eigen::Matrix<double, kTriangleUnknowns, 1>;
using TriangleMatrix = Eigen::Matrix<double, kTriangleUnknowns, kTriangleUnknowns>;
using StrainGradient = Eigen::Matrix<double, 6, kTriangleUnknowns>;

/// Reference tangent and director of an edge at the last accepted state; parallel transport carries the director
/// to the trial state (Bergou and others 2008, 2010).
struct EdgeFrame {
  Eigen::Vector3d tangent;   ///< unit, tail to head of the edge as stored
  Eigen::Vector3d director;  ///< unit, perpendicular to tangent; angle 0 points the mid-side normal along it
};

/// The undeformed triangle.
struct TriangleReference {
  Eigen::Matrix<double, 2, 3> corner;  ///< in-plane coordinates in the triangle's material frame [mm]
  Eigen::Matrix<double, 2, 3> normal;  ///< outward in-plane unit normals of the edges facing nodes 0, 1, 2
  Eigen::Vector3d height;              ///< of node i above its facing edge [mm]
  Eigen::Vector3d length;              ///< of the edge facing node i [mm]
  double area = 0;                     ///< [mm2]
  Eigen::Vector3d sign;                ///< +1: the triangle walks edge i (node i+1 to node i+2) tail to head
  Eigen::Vector3d initial_turn;        ///< from mid-side normal to triangle normal in the reference state [rad]
};

/// Strains of the mid-surface and their derivatives with respect to the 15 unknowns.
struct TriangleStrain {
  Eigen::Matrix<double, 6, 1> value;  ///< [E11, E22, 2E12, k11, k22, 2k12], material frame
  StrainGradient gradient;            ///< d value / d unknowns
};

/// Current positions and edge unknowns of one triangle.
struct TriangleState {
  Eigen::Matrix3d positions;  ///< column i: node i [mm]
  Eigen::Vector3d turn;       ///< edge angles as stored (tail to head) [rad]
  Eigen::Vector3d bow;        ///< in-plane mid-side displacement along the stored edge's right-hand normal [mm]
  std::array<EdgeFrame, 3> frames;
};

/// @param positions  column i: node i in the reference state [mm]
/// @param axis       direction in space that the material frame's first axis follows (projected on the triangle)
/// @param state      reference edge angles and frames (positions equal to the reference)
TriangleReference make_reference(const Eigen::Matrix3d& positions, const Eigen::Vector3d& axis,
                                 const Eigen::Vector3d& sign, const TriangleState& state);

/// Membrane strain of the flat triangle improved by the mid-side bows (element mean), and the constant curvature
/// from the turns of the mid-side normals (Morley 1971; van Keulen and Booij 1996; Grinspun and others 2006).
TriangleStrain triangle_strain(const TriangleReference& reference, const TriangleState& state);

/// Sum over the six strains of resultant(i) times the Hessian of strain i; symmetric (15, 15).
TriangleMatrix geometric_stiffness(const TriangleReference& reference, const TriangleState& state,
                                   const Eigen::Matrix<double, 6, 1>& resultant);

/// Elastic stiffness of the part of the bows' strain that varies over the triangle (its mean is in
/// triangle_strain). Acts on the bows only; rows and columns 12 to 14 of the (15, 15) matrix.
/// @param plane_stress  (3, 3) elastic plane-stress matrix [MPa]
Eigen::Matrix3d bow_stabilisation(const TriangleReference& reference, const Eigen::Matrix3d& plane_stress,
                                  double thickness);

/// Frame of an edge carried to a new direction: no spin about the edge.
EdgeFrame transport(const EdgeFrame& frame, const Eigen::Vector3d& new_tangent);

/// Normal of the mid-side: the director turned by `turn` about the tangent.
Eigen::Vector3d mid_side_normal(const EdgeFrame& frame, double turn);

}  // namespace halftool::solver
