#pragma once
#include <string>

#include "mesh/gmsh_session.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Puts the shape into the current model as OpenCASCADE faces.
/// @throws MeshError  impossible measures, each named with its value and what would do; unreadable STEP file
void build_shape(const GmshSession& session, const ToolShape& shape);

/// Short description for notes and messages ("straight block 150 x 60 x 35 mm, edge radius 3 mm").
std::string describe(const ToolShape& shape);

}  // namespace halftool::mesh
