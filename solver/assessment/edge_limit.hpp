#pragma once
#include <Eigen/Core>
#include <array>
#include <optional>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/trim.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// One edge of the mesh on a cut edge of the blank.
struct EdgeStrain {
  int triangle = -1;
  double strain = 0;                             ///< true strain along it since it was cut, mid-surface
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< its middle [mm]
  mesh::EdgeKind kind = mesh::EdgeKind::outer;   ///< outer, hole or trimmed
  std::array<Eigen::Vector3d, 2> ends = {Eigen::Vector3d::Zero(), Eigen::Vector3d::Zero()};  ///< [mm]
};

/// Strains along the outline, the rims of the holes and edges that were trimmed on the way, whose metal was
/// strained before it was an edge: not of held rims and planes of symmetry.
std::vector<EdgeStrain> edge_strains(const mesh::Blank& blank, const SheetFields& fields);

/// Tells a trimmed sheet how far its cut edges are strained already.
/// @param before     the sheet that it was cut from
/// @param positions  (n_nodes, 3) of the trimmed sheet [mm]
void note_strain_when_cut(mesh::TrimmedBlank& cut, const mesh::Blank& before, const mesh::Points& positions);

/// True strains that edges may reach after they were cut; nothing: not judged.
struct EdgeLimits {
  std::optional<double> outline, holes, trimmed;

  [[nodiscard]] const std::optional<double>& of(mesh::EdgeKind kind) const;
  [[nodiscard]] bool any() const { return outline || holes || trimmed; }
};

/// Strain over limit, 0 where the edge shortens; not a number where it is not judged.
double edge_share(const EdgeStrain& edge, const EdgeLimits& limits);

/// (n_triangles) the share of the edge, the larger where a triangle has two; not a number off the edges.
Eigen::VectorXd edge_shares(const std::vector<EdgeStrain>& edges, Eigen::Index n_triangles,
                            const EdgeLimits& limits);

/// True strain along an edge that has grown by a share of its length. A hole expansion ratio (ISO 16630: the
/// growth of the diameter of a punched 10 mm hole over the diameter) is such a share, for the circumference
/// grows as the diameter does. It holds for that hole: where the strain falls off less steeply behind the
/// edge than there, as at a straight edge, the edge may crack earlier.
double edge_limit_strain(double stretch);

}  // namespace halftool::solver
