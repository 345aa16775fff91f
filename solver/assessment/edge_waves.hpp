#pragma once
#include <Eigen/Core>
#include <limits>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/assessment/flange_edges.hpp"
#include "solver/assessment/line_waves.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// Height below which a rise and fall of an edge is no wave, over the thickness (own choice: above what
/// meshes and the lift of flanges leave, below what is felt).
inline constexpr double kLeastWave = 0.05;

/// Waves on the flange edges of one state. Only the computed part counts; a wave on a plane of symmetry
/// counts once.
struct EdgeWaves {
  double pressure = 0;  ///< of the fluid [MPa]
  int count = 0;
  // Of the highest one:
  double height = 0;          ///< of its crest over the line between the valleys beside it [mm]
  double length = 0;          ///< see Wave, along the flat edge [mm]
  double bending_strain = 0;  ///< largest, in the sheet's faces
  Eigen::Vector3d at =
      Eigen::Vector3d::Constant(std::numeric_limits<double>::quiet_NaN());  ///< its crest [mm]
  int edge = -1;  ///< number of the flange edge that it stands on
};

/// The waves of a pressing.
struct EdgeWaveHistory {
  EdgeWaves highest;  ///< the state in which a wave stood highest
  EdgeWaves left;     ///< the last state before a trimming: at full pressure, if that was reached
  /// True strain along the flange edge that had the highest wave, over lengths of five thicknesses, in the
  /// last state; NaN without waves.
  double least_strain = std::numeric_limits<double>::quiet_NaN();
  double largest_strain = std::numeric_limits<double>::quiet_NaN();
};

/// Remembers the border of each state of a pressing, for only the formed part shows where its flanges are. It
/// ends where the sheet is trimmed.
class EdgeTrace {
 public:
  /// @param blank  must outlive the trace
  explicit EdgeTrace(const mesh::Blank& blank);
  /// @param tool  that the sheet lies on; none: no gap to it is measured
  void add(const SheetFields& fields, const mesh::ToolSurface* tool);
  /// Empty before the first state.
  [[nodiscard]] EdgeWaveHistory history() const;

  /// Of the states added; the blank must be the same.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(states_, last_);
  }

 private:
  struct State {
    double pressure = 0;
    mesh::Points positions;  ///< of the border nodes
    mesh::Points normals;    ///< of the sheet there
    Eigen::VectorXd gap;     ///< of the mid-surface to the tool [mm]; NaN: none near
    Eigen::VectorXd facing;  ///< cosine between the sheet's normal and the tool's

    template <class Archive>
    void serialize(Archive& archive) {
      archive(pressure, positions, normals, gap, facing);
    }
  };
  [[nodiscard]] HeightLine line(const State& state, const FlangeEdge& edge) const;
  [[nodiscard]] EdgeWaves measure(const State& state, const std::vector<FlangeEdge>& edges) const;
  void add_strain(const FlangeEdge& edge, EdgeWaveHistory& history) const;

  const mesh::Blank& blank_;
  std::vector<int> nodes_;     ///< of the border
  std::vector<int> index_;     ///< of a node in `nodes_`, -1 inside
  std::vector<State> states_;  ///< all of the pressing
  mesh::Points last_;          ///< all nodes, last state
};

}  // namespace halftool::solver
