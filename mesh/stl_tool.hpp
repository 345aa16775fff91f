#pragma once
#include <string>
#include <vector>

#include "mesh/tool_facets.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Reads, places, repairs and checks the facets of an STL file and estimates their corner normals. The
/// geometric error is the largest distance of the curved facets from the file's: all there is to know of the
/// accuracy without the CAD surface, of which the corners alone are given.
/// @param tray_floor  an opening at the lowest point is covered by a tray floor
/// @param notes  a line for every kind of repair
/// @throws MeshError  unreadable file, and what cannot be mended without a doubt: large holes, branching,
/// facets that cross, pieces within one another; each with its place and the mend
ToolFacets facets_of_stl(const StlShape& shape, bool tray_floor, std::vector<std::string>& notes);

/// Remarks on radii that have fewer than nine facets over 90 degrees, the coarsest first, at most three.
std::vector<std::string> note_coarse_radii(const ToolSurface& tool);

}  // namespace halftool::mesh
