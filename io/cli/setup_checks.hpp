#pragma once
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/tool_set.hpp"
#include "mesh/blank.hpp"

namespace halftool::io {

/// Refuses trim lines that cannot meet the formed part: beside it, or round all of it. It lies within the
/// blank in plan and, along the press axis, between the lowest point of the tool half and the blank on its
/// highest.
/// @throws CaseError  naming the line, its extent and that of the part, both seen along the line's axis
void refuse_unmet_trims(const Case& job, const ToolSet& set);

/// Refuses a blank that does not lie over the tool half of the first step.
/// @throws CaseError
void refuse_blank_off_tool(const Case& job, const ToolSet& set);

/// Refuses planes of symmetry across which the tool half of a step, where the sheet can come to lie on it, is
/// not its own mirror image. A tool half that ends at the plane, or a little beyond it, is taken for a half
/// of the tool: then it is compared as far as it reaches beyond the plane.
/// @throws CaseError        naming the plane, the place and the difference
/// @throws mesh::MeshError  a blank off the tool
void refuse_asymmetric_tools(const Case& job, const ToolSet& set);

/// Tool halves that end a little beyond a plane of symmetry, or begin behind it.
std::vector<CaseWarning> symmetry_doubts(const Case& job, const ToolSet& set);

/// What is doubtful about how blank, pins and inserts lie on the tool half: sizes that do not belong
/// together, pins with nothing of it under them, a blank that tips as it is laid down, inserts beside the
/// blank, lines that trim the flat blank only; symmetry_doubts.
std::vector<CaseWarning> setup_doubts(const Case& job, const ToolSet& set);

/// What is doubtful about the shape of each step's tool half, each one line.
std::vector<std::string> tool_doubts(const Case& job, const ToolSet& set);

/// Zones of the lubrication that no triangle of the flat blank belongs to; of zones on the side of a plane of
/// symmetry that is not computed, which others are the mirror images of, nothing is said.
std::vector<CaseWarning> zone_doubts(const Case& job, const mesh::Blank& blank);

}  // namespace halftool::io
