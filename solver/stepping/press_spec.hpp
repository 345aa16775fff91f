#pragma once
#include <Eigen/Core>
#include <vector>

namespace halftool::solver {

/// One point of the pressure schedule: share of the pressing time and pressure.
struct SchedulePoint {
  double share = 0;     ///< 0 to 1
  double pressure = 0;  ///< [MPa]
};

/// One pressing: the schedule rises to its last pressure, dwells there, then is released.
struct PressSpec {
  std::vector<SchedulePoint> schedule;  ///< share and pressure never fall; the last pressure is the peak
  double tool_friction = 0.1;           ///< Coulomb coefficient between sheet and tool
  Eigen::VectorXd friction_of;  ///< (n_triangles) the same where lubrication varies; empty: it does not
  bool normal_stress = true;    ///< let the pressure through the thickness shift yield
  bool edges_loaded = true;     ///< the pad presses on the cut edges too
};

/// Numbers of the method. The defaults serve every case; none has to be touched.
struct SolverSettings {
  int layers = 15;  ///< Gauss points through the thickness
  /// Of the thickness: penetration of a metal of 70 GPa where contact carries the fluid's pressure; of others
  /// in inverse proportion to Young's modulus.
  double penetration_share = 0.0002;
  double slip_share = 0.002;      ///< of the thickness: elastic slip before full friction
  double pressure_growth = 0.15;  ///< largest growth of the pressure in one increment
  double largest_motion = 1;      ///< largest nodal motion in one increment [mm]
  double tolerance = 0.04;        ///< out-of-balance force over the pressure force
  int most_iterations = 40;       ///< before an increment is cut
  int threads = 0;                ///< 0: all cores
  bool enriched_membrane = true;  ///< mid-side bows
  double viscosity = 0;           ///< force per area and motion in an increment [MPa/mm]; a crutch, off
};

}  // namespace halftool::solver
