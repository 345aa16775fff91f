#pragma once
#include <string>
#include <vector>

#include "mesh/gmsh_session.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Puts the shape into the current model as OpenCASCADE faces; inserts are joined with it to one body.
/// @return doubts about what a STEP file holds, and bodies that hang in the air
/// @throws MeshError  impossible measures, each named with its value and what would do; unreadable STEP file;
/// an insert that is no solid, or bodies that overlap (volume and place named)
std::vector<std::string> build_shape(const GmshSession& session, const ToolShape& shape,
                                     const std::vector<ToolShape>& inserts = {});

/// Short description for notes and messages ("straight block 150 x 60 x 35 mm, edge radius 3 mm").
std::string describe(const ToolShape& shape);

}  // namespace halftool::mesh
