#pragma once
#include <Eigen/Core>
#include <array>

namespace halftool::solver {

/// Unknowns of one triangle, in this order: positions of nodes 0, 1, 2 (9), turn angles of the edges facing
/// nodes 0, 1, 2 (3) [rad], in-plane mid-side displacements of the same edges (3) [mm].
inline constexpr int kTriangleUnknowns = 15;
using TriangleVector = Eigen::Matrix<double, kTriangleUnknowns, 1>;
using TriangleMatrix = Eigen::Matrix<double, kTriangleUnknowns, kTriangleUnknowns>;
using StrainGradient = Eigen::Matrix<double, 6, kTriangleUnknowns>;
using PointGradient = Eigen::Matrix<double, 3, kTriangleUnknowns>;

/// Reference tangent and director of an edge at the last accepted state; parallel transport carries the
/// director to the trial state (Bergou and others 2008, 2010).
struct EdgeFrame {
  Eigen::Vector3d tangent;   ///< unit, tail to head of the edge as stored
  Eigen::Vector3d director;  ///< unit, perpendicular to tangent; angle 0 points the mid-side normal along it

  template <class Archive>
  void serialize(Archive& archive) {
    archive(tangent, director);
  }
};

/// The undeformed triangle. Its normal is that of the counter-clockwise walk 0, 1, 2; heights z are along it.
struct TriangleReference {
  Eigen::Matrix<double, 2, 3> corner;  ///< in-plane coordinates from the centroid, material frame [mm]
  Eigen::Matrix<double, 2, 3> normal;  ///< outward in-plane unit normals of the edges facing nodes 0, 1, 2
  Eigen::Vector3d height;              ///< of node i above its facing edge [mm]
  Eigen::Vector3d length;              ///< of the edge facing node i [mm]
  double area = 0;                     ///< of the flat triangle [mm2]
  Eigen::Vector3d sign;  ///< +1: the triangle walks edge i (node i+1 to node i+2) tail to head; -1: not
  Eigen::Vector3d initial_turn;  ///< from mid-side normal to triangle normal, about the walked edge [rad]
};

/// Strains of the mid-surface and their derivatives with respect to the 15 unknowns.
///
/// E is the Green-Lagrange strain and k the second fundamental form of the deformed mid-surface in reference
/// coordinates, less that of the reference; k11 > 0 curls the surface towards its normal: k11 = 1/R on a
/// cylinder about axis 2 whose centre lies on the normal's side. The layer at height z (> 0 on the normal's
/// side) has the metric C(z) = I + 2E - 2 z k + ..., so that fibres at z > 0 shorten when k > 0. A layer
/// stretched by s and then bent to the radius R has k = s s/R (not s/R), which is what the layer metric
/// needs.
struct TriangleStrain {
  Eigen::Matrix<double, 6, 1> value;  ///< [E11, E22, 2E12, k11, k22, 2k12], material frame
  StrainGradient gradient;            ///< d value / d unknowns
};

/// Current positions and edge unknowns of one triangle.
struct TriangleState {
  Eigen::Matrix3d positions;  ///< column i: node i [mm]
  Eigen::Vector3d
      turn;  ///< of the mid-side normal from the director, right-handed about the stored edge [rad]
  Eigen::Vector3d bow;  ///< in-plane mid-side displacement, > 0 to the right of the stored edge (tail to
                        ///< head) for a viewer whom the normal points at: outward where sign is +1 [mm]
  std::array<EdgeFrame, 3> frames;
};

/// Reference of a triangle. An initially curved mesh enters through initial_turn alone: lengths and area are
/// those of the flat triangle, strains and k count from the reference.
/// @param positions  column i: node i in the reference state [mm]
/// @param axis       direction in space that the material frame's first axis follows (projected on the
/// triangle)
/// @param sign       see TriangleReference::sign
/// @param state      reference edge angles and frames (its positions and bows are not read)
/// @throws std::invalid_argument  a triangle without area, or an axis along its normal
TriangleReference make_reference(const Eigen::Matrix3d& positions, const Eigen::Vector3d& axis,
                                 const Eigen::Vector3d& sign, const TriangleState& state);

/// Membrane strain of the flat triangle improved by the mid-side bows (element mean, linear in the bows), and
/// the constant curvature from the turns of the mid-side normals (Morley 1971; van Keulen and Booij 1996;
/// Grinspun and others 2006). With beta the angle from mid-side normal to triangle normal about the walked
/// edge, h, nu height and outward normal in the reference and H the current height, the second fundamental
/// form is sum_i 2 H_i/h_i^2 beta_i nu_i nu_i^T. Singular where an edge has reversed since its frame was
/// accepted, or the triangle has lost its area (not finite).
TriangleStrain triangle_strain(const TriangleReference& reference, const TriangleState& state);

/// Sum over the six strains of resultant(i) times the Hessian of strain i; symmetric (15, 15).
TriangleMatrix geometric_stiffness(const TriangleReference& reference, const TriangleState& state,
                                   const Eigen::Matrix<double, 6, 1>& resultant);

/// Elastic stiffness [N/mm] of the part of the bows' strain that varies over the triangle (its mean is in
/// triangle_strain). Acts on the bows only; rows and columns 12 to 14 of the (15, 15) matrix.
/// @param plane_stress  (3, 3) elastic plane-stress matrix on [E11, E22, 2E12] [MPa]
Eigen::Matrix3d bow_stabilisation(const TriangleReference& reference, const Eigen::Matrix3d& plane_stress,
                                  double thickness);

/// Middle of the curved triangle: the centroid of the flat one raised along its normal by the element's own
/// curvature. On a cylinder meshed with elements of size h it lies on it to order h^4. The tool acts
/// here, and the fluid as far as the tool carries it.
struct MiddlePoint {
  Eigen::Vector3d position;  ///< [mm]
  double height = 0;         ///< above the flat triangle, along its normal [mm]
  PointGradient gradient;    ///< d position / d unknowns; a force f here gives gradient^T f
};

/// @param strain  triangle_strain of the same state
MiddlePoint middle_point(const TriangleReference& reference, const TriangleState& state,
                         const TriangleStrain& strain);

/// Force times the Hessian of the middle point; symmetric (15, 15).
/// @param strain  triangle_strain of the same state
TriangleMatrix middle_force_stiffness(const TriangleReference& reference, const TriangleState& state,
                                      const TriangleStrain& strain, const Eigen::Vector3d& force);

/// Frame of an edge carried to a new direction: no spin about the edge. Orthonormal also after many
/// transports.
/// @param new_tangent  unit; not opposite to the frame's tangent
EdgeFrame transport(const EdgeFrame& frame, const Eigen::Vector3d& new_tangent);

/// Normal of the mid-side: the director turned by `turn` about the tangent, right-handed.
Eigen::Vector3d mid_side_normal(const EdgeFrame& frame, double turn);

}  // namespace halftool::solver
