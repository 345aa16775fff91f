#pragma once
#include <Eigen/Core>
#include <vector>

#include "mesh/surface_mesh.hpp"
#include "solver/contact/contact_traction.hpp"
#include "solver/kinematics/shell_triangle.hpp"
#include "solver/material/section.hpp"

namespace halftool::solver {

// `serialize` hands the members to an archive, which writes or reads them in this order.

/// What a triangle remembers of the last accepted state; held fixed within an increment.
struct TriangleMemory {
  double thickness = 0;                     ///< current [mm]
  double thickness_strain = 0;              ///< mean ln(t/t0)
  Eigen::Vector3d inverse_metric{1, 1, 0};  ///< see SectionFrozen
  double area = 0;                          ///< current, of the flat triangle [mm2]
  double curvature_trace = 0;   ///< sum of the principal curvatures [1/mm], > 0: pad face on the inside
  double fluid_share = 1;       ///< of the fluid's pressure that the pad brings to its face
  double contact_pressure = 0;  ///< on the tool face, spread over a thickness [MPa]
  Eigen::Vector3d middle;       ///< see MiddlePoint [mm]
  FrictionState friction;       ///< at the middle
  int tool_facet = -1;  ///< that the middle stood over, where it was near the tool: where to look first
  double tool_gap = 0;  ///< of the middle at least [mm]; 0: not known

  template <class Archive>
  void serialize(Archive& archive) {
    archive(thickness, thickness_strain, inverse_metric, area, curvature_trace, fluid_share, contact_pressure,
            middle, friction, tool_facet, tool_gap);
  }
};

/// The unknowns of the sheet.
struct SheetPlace {
  mesh::Points positions;  ///< (n_nodes, 3) [mm]
  Eigen::VectorXd turn;    ///< (n_edges) angle of the mid-side normal from its director [rad]
  Eigen::VectorXd bow;     ///< (n_edges) in-plane mid-side displacement [mm]

  template <class Archive>
  void serialize(Archive& archive) {
    archive(positions, turn, bow);
  }
};

/// An accepted equilibrium state of the sheet.
struct SheetState {
  SheetPlace place;
  std::vector<EdgeFrame> frames;       ///< (n_edges)
  std::vector<PointState> points;      ///< (n_triangles * layers)
  std::vector<double> history;         ///< (n_triangles * layers * Section::n_history()) beyond `points`
  std::vector<TriangleMemory> memory;  ///< (n_triangles)
  double pressure = 0;                 ///< of the fluid [MPa]

  template <class Archive>
  void serialize(Archive& archive) {
    archive(place, frames, points, history, memory, pressure);
  }
};

}  // namespace halftool::solver
