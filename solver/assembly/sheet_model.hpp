#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/blank.hpp"
#include "solver/assembly/equations.hpp"
#include "solver/assembly/pressure_spread.hpp"
#include "solver/kinematics/shell_triangle.hpp"
#include "solver/material/section.hpp"
#include "solver/state.hpp"

namespace halftool::solver {

/// What does not change during a run: the undeformed sheet, its metal and the numbering of its unknowns.
struct SheetModel {
  mesh::Blank blank;
  Section section;
  Equations equations;
  ElementEquations triangle_equations;         ///< (n_triangles, 15)
  std::vector<TriangleReference> references;   ///< (n_triangles)
  std::vector<Eigen::Matrix3d> bow_stiffness;  ///< (n_triangles) see bow_stabilisation
  PressureSpread pressure_spread;              ///< contact pressure into the metal
  bool elastic = false;                        ///< no plastic flow (verification)
  /// Of the pad (diaphragm) [mm]: hollows of the sheet down to this radius get the full pressure, those of
  /// half of it none, see pad_share. 0: the fluid reaches everywhere.
  double smallest_pad_radius = 0;

  [[nodiscard]] int n_triangles() const { return blank.mesh.n_triangles(); }
  [[nodiscard]] double mean_edge_length() const;  ///< [mm]
};

/// Share of the fluid's pressure that the pad brings into a hollow: 1 up to a curvature of 1/smallest radius,
/// from there linear in the curvature to 0 at twice as much. The ramp stands for a pad that bears on the
/// shoulders of the hollow the more, the tighter that is; a rule of ours, no source. What it bears there is
/// not added to the pressure on the shoulders, and the pad's own stretch and thickness are left out.
/// @param curvature  of the pad face, > 0: hollow towards the pad [1/mm]
double pad_share(double curvature, double smallest_radius);

/// @param enriched_membrane  mid-side bows as unknowns
/// @throws mesh::MeshError  a triangle that cannot be computed, see check_triangles
SheetModel make_model(const mesh::Blank& blank, const SheetMaterial& material, int layers,
                      bool enriched_membrane);

/// The undeformed sheet at rest as its mesh lies: no stress, no pressure.
SheetState initial_state(const SheetModel& model);

/// Unknowns of one triangle in a trial place, with the frames of the last accepted state.
TriangleState triangle_state(const SheetModel& model, const SheetPlace& place,
                             const std::vector<EdgeFrame>& frames, int triangle);

/// What drives the section of one triangle at a pressure of the fluid; contact pressure on the tool face in
/// proportion to the fluid's.
SectionFrozen section_frozen(const SheetModel& model, const SheetState& committed, int triangle,
                             double pressure, bool normal_stress);

}  // namespace halftool::solver
