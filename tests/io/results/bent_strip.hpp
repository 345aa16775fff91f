#pragma once
#include "mesh/surface_mesh.hpp"
#include "solver/result.hpp"

namespace halftool::io::test {

/// An INVENTED state of a strip folded over the edge of a block: no computation stands behind these numbers.
/// They are plausible in size and shape, so that files can be read back and pictures looked at.
struct BentStrip {
  mesh::SurfaceMesh tool;  ///< block with a rounded edge over a tray floor
  solver::SheetFields formed;
  solver::SheetFields released;  ///< the flange opens by `opening`
  double thickness = 1.6;        ///< of the blank [mm]
  double radius = 3;             ///< of the block's edge [mm]
  double opening = 0.05;         ///< [rad]
};

/// @param along, across  number of quadrangles along and across the strip, each split in two triangles
BentStrip make_bent_strip(int along = 90, int across = 30);

}  // namespace halftool::io::test
