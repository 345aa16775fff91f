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

  [[nodiscard]] int n_triangles() const { return blank.mesh.n_triangles(); }
  [[nodiscard]] double mean_edge_length() const;  ///< [mm]
};

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
