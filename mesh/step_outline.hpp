#pragma once
#include <string>
#include <vector>

#include "mesh/chain_curves.hpp"

namespace halftool::mesh {

struct PlanarFace {
  std::vector<PlaneCurve> curves;
  double depth = 0;  ///< how far edges of what the file holds stand off the plane of the face [mm]
};

/// Curves of the largest planar face of a STEP file (ISO 10303), holes included, laid flat.
///
/// The face's plane is turned to z = const by the smallest rotation about the file's origin that takes its
/// normal to +z, and seen from above; the side of the normal is the one with z > 0, or, where z = 0, with y >
/// 0, or x > 0. A face that is flat in the file keeps its x and y, whichever side of the plate it is.
/// @param path  of the file; its own length unit is converted to mm
/// @throws MeshError  no file that can be read, no planar face
PlanarFace read_planar_face(const std::string& path);

}  // namespace halftool::mesh
