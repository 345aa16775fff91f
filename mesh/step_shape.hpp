#pragma once
#include <string>
#include <vector>

#include "mesh/tool_surface.hpp"

namespace halftool::mesh {

/// Puts what a STEP file holds into the current model, in its place: its solids, joined to one body where
/// they touch; where it holds none, its faces, sewn together. Call within GmshSession::run, before the model
/// is synchronised.
/// @return doubts, each a line that names the file: what was left out, or sewn
/// @throws MeshError  no file, a damaged one (see try_step_file), no shape, one that is far too large, bodies
/// that overlap
std::vector<std::string> add_step_shape(const StepShape& shape);

}  // namespace halftool::mesh
