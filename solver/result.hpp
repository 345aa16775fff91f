#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::solver {

/// Fields of one accepted state of the sheet, for files and pictures. "Outer" is the pad face, "inner" the
/// tool face. Element fields are constant over a triangle.
struct SheetFields {
  mesh::Triangles triangles;         ///< (n_triangles, 3)
  double pressure = 0;               ///< fluid pressure [MPa]
  mesh::Points positions;            ///< (n_nodes, 3) [mm], mid-surface
  mesh::Points displacement;         ///< (n_nodes, 3) [mm] from the flat blank
  Eigen::VectorXd thickness;         ///< (n_triangles) [mm]
  Eigen::VectorXd thinning;          ///< (n_triangles) (t0 - t)/t0
  Eigen::MatrixX2d strain_mid;       ///< (n_triangles, 2) major, minor true strain
  Eigen::MatrixX3d strain_mid_axes;  ///< (n_triangles, 3) [11, 22, 2*12] in the axes of the yield condition
  /// (n_triangles, 2) [MPa] major, minor stress of the mid-surface less that across it, which the pressures
  /// on both faces bring: what stretches the sheet and lets it buckle
  Eigen::MatrixX2d stress_mid;
  Eigen::MatrixX2d strain_outer;     ///< (n_triangles, 2)
  Eigen::MatrixX2d strain_inner;     ///< (n_triangles, 2)
  Eigen::VectorXd plastic_mid;       ///< (n_triangles) equivalent plastic strain
  Eigen::VectorXd plastic_outer;     ///< (n_triangles)
  Eigen::VectorXd plastic_inner;     ///< (n_triangles)
  Eigen::VectorXd von_mises_outer;   ///< (n_triangles) [MPa]
  Eigen::VectorXd von_mises_inner;   ///< (n_triangles) [MPa]
  Eigen::VectorXd fluid_pressure;    ///< (n_triangles) [MPa] that the pad brings to the sheet, see pad_share
  Eigen::VectorXd contact_pressure;  ///< (n_triangles) [MPa] mean over the triangle, >= 0
  Eigen::VectorXd gap;  ///< (n_triangles) [mm] mean gap of the tool face, < 0 penetrates; NaN: no tool near
  Eigen::VectorXd
      limit_share;  ///< (n_triangles) major strain over the forming limit on the same path; 1 lies on it
  Eigen::VectorXd path_share;    ///< (n_triangles) the same along the path that the strain took, see
                                 ///< StrainPath; empty: not judged
  Eigen::MatrixX2d bent_strain;  ///< (n_triangles, 2) outer, inner: major true strain where the bend limit
                                 ///< judges, see bent_faces; else NaN; empty: not assessed
  Eigen::VectorXd wrinkling;     ///< (n_triangles) see wrinkling_tendency; empty: not assessed
  Eigen::MatrixX2d
      face_share;  ///< (n_triangles, 2) outer, inner: see add_governing_shares; empty: not assessed
  Eigen::MatrixX2d face_kind;  ///< (n_triangles, 2) number of the LimitKind; empty: not assessed
  Eigen::VectorXd edge_share;  ///< (n_triangles) strain along a cut edge over its limit; NaN off the edges;
                               ///< empty: not judged
};

/// What the computation took, in numbers that the summary prints.
struct RunRecord {
  int increments = 0;  ///< accepted, loading
  int cuts = 0;        ///< rejected attempts, loading
  int iterations = 0;  ///< Newton iterations to full pressure (cut attempts included)
  int iterations_dwell = 0;
  int iterations_release = 0;
  int factorisations = 0;
  int indefinite_factorisations = 0;
  int snaps = 0;  ///< of the sheet from one shape to another, damped
  int line_search_evaluations = 0;
  double out_of_balance =
      0;  ///< largest residual component over the norm of the pressure force, end of the dwell
  double external_work = 0;        ///< of the fluid up to the end of the dwell [N mm]
  double regularisation_work = 0;  ///< of viscosity or any other crutch [N mm]
  double friction_work = 0;        ///< [N mm]
  double plastic_work = 0;         ///< [N mm]
  double largest_penetration = 0;  ///< at full pressure [mm]
  double pressure_force_z = 0;  ///< resultant of the fluid along the press axis at the end of the dwell [N]
  double tool_force_z = 0;      ///< reaction of the tool along the press axis [N]
  double held_force_z = 0;      ///< reaction of clamped edges along the press axis [N]
  double support_reaction = 0;  ///< largest reaction of the six supports after release [N]
  double seconds_factor = 0, seconds_solve = 0, seconds_element = 0, seconds_other = 0;

  template <class Archive>
  void serialize(Archive& archive) {
    archive(increments, cuts, iterations, iterations_dwell, iterations_release, factorisations,
            indefinite_factorisations, snaps, line_search_evaluations, out_of_balance, external_work,
            regularisation_work, friction_work, plastic_work, largest_penetration, pressure_force_z,
            tool_force_z, held_force_z, support_reaction, seconds_factor, seconds_solve, seconds_element,
            seconds_other);
  }
};

}  // namespace halftool::solver
