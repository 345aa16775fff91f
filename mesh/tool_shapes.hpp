#pragma once
#include <string>
#include <vector>

#include "mesh/gmsh_session.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Puts the shape into the current model as OpenCASCADE faces.
/// @throws MeshError  impossible measures, each named with its value and what would do; unreadable STEP file
void build_shape(const GmshSession& session, const ToolShape& shape);

/// Builds the inserts too and joins them with the shape to one body.
/// @throws MeshError  an insert that is no solid, or that overlaps what stands there already (volume and
/// place named)
void build_shape(const GmshSession& session, const ToolShape& shape, const std::vector<ToolShape>& inserts);

/// Short description for notes and messages ("straight block 150 x 60 x 35 mm, edge radius 3 mm").
std::string describe(const ToolShape& shape);

}  // namespace halftool::mesh
