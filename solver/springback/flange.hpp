#pragma once
#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "mesh/blank.hpp"
#include "mesh/surface_mesh.hpp"
#include "solver/state.hpp"

namespace halftool::solver {

/// A part of the sheet beyond a bend.
struct Flange {
  std::string name;            ///< from where it lies: "flange at +x", numbered if there are several
  std::vector<int> triangles;  ///< beyond the bend, without the bend itself
  Eigen::Vector3d centre;      ///< formed [mm]
};

/// Finds the web (the largest little-bent region square to the press axis) and the flanges (little-bent
/// regions that stand at more than 20 degrees to it) of a formed part. Little bent: the normals turn less
/// over the thickness than a bend of 12 thicknesses would give, measured over each edge between neighbours. A
/// flange stands at about the same angle everywhere (deviation below a quarter of the mean): a dome's wall is
/// none.
/// A sheet bent all over its middle has no web: its flanges (legs) then stand against the press axis.
struct Regions {
  std::vector<int> web;  ///< triangles
  std::vector<Flange> flanges;
};
Regions find_flanges(const mesh::Blank& blank, const mesh::Points& formed);

/// Angle through which a flange is folded out of the web: area mean, over the flange's triangles, of the
/// angle between their normals and the web's mean normal, or the press axis if the web is empty [rad].
double fold_angle(const mesh::Blank& blank, const mesh::Points& positions, const std::vector<int>& web,
                  const std::vector<int>& flange);

/// Widest angle between the normals of a strip wrapped about one axis [rad]; none if the normals do not lie
/// in a plane, as those of a dish do not. At mid-sides the sheet's own normal is known, also on a line of
/// symmetry; those of triangles stand for their middles only.
std::optional<double> wrapped_turn(const SheetState& state);

}  // namespace halftool::solver
