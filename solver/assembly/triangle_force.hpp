#pragma once
#include <Eigen/Core>

#include "mesh/tool_surface.hpp"
#include "solver/assembly/sheet_model.hpp"
#include "solver/contact/contact_traction.hpp"

namespace halftool::solver {

/// What acts on the sheet in a trial.
struct Loading {
  double pressure = 0;         ///< of the fluid [MPa]
  double normal_pressure = 0;  ///< of the fluid in the sheet's normal stress, frozen in the increment [MPa]
  bool normal_stress = true;   ///< let the pressure through the thickness shift yield
  bool edges_loaded = true;    ///< the fluid presses on the cut edges too
  const mesh::ToolSurface* tool = nullptr;  ///< none: free of the tool
  ContactLaw contact;
  /// (n_triangles) friction coefficient where lubrication varies; none: that of `contact` everywhere
  const Eigen::VectorXd* friction_of = nullptr;
  double damping = 0;  ///< force per area and motion in the increment [MPa/mm], a crutch; 0: off
};

/// Contributions of one triangle. Forces are generalised forces on its 15 unknowns.
struct TriangleForce {
  TriangleVector out_of_balance = TriangleVector::Zero();  ///< internal less tool less pressure forces
  TriangleVector pressure_force = TriangleVector::Zero();  ///< of unit fluid pressure [mm2]
  TriangleVector tool_force = TriangleVector::Zero();      ///< of the tool on the sheet [N]
  TriangleMatrix stiffness = TriangleMatrix::Zero();       ///< d out_of_balance / d unknowns, symmetric part
  double contact_pressure = 0;                             ///< [MPa]
  FrictionState friction;                                  ///< trial
  int tool_facet = -1;                                     ///< see TriangleMemory
  double tool_gap = 0;                                     ///< see TriangleMemory [mm]
  double smallest_gap = 0;                                 ///< [mm], < 0: penetration
  double friction_work = 0;                                ///< of this increment [N mm]
  double plastic_work = 0;                                 ///< since the flat blank [N mm]
  double damping_work = 0;                                 ///< of this increment [N mm]
  double thickness_strain = 0;
  bool valid =
      false;  ///< false: strain out of range or return map not converged; the caller cuts the increment
};

/// Where the trial history of a triangle's metal is written.
struct TrialMetal {
  PointState* points = nullptr;  ///< (layers)
  double* history = nullptr;     ///< (layers * Section::n_history())
};

/// @param trial            place whose balance is wanted
/// @param want_stiffness   false leaves `stiffness` zero
TriangleForce triangle_force(const SheetModel& model, const SheetState& committed, const SheetPlace& trial,
                             const Loading& loading, int triangle, const TrialMetal& metal,
                             bool want_stiffness);

}  // namespace halftool::solver
