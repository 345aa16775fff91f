#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "io/case/case.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/stepping/press_spec.hpp"

namespace halftool::io {

/// Names of the inserts that stand in a step, in the order of the case.
/// @param step  from 0
std::vector<std::string> inserts_in(const Case& job, std::size_t step);

/// The tool as it stands in a step.
mesh::ToolSpec tool_in(const Case& job, std::size_t step);

/// (n_triangles) number of the lubrication zone that each triangle of a flat blank belongs to; -1: none.
std::vector<int> zones_of(const Case& job, const mesh::Blank& blank);

/// What each step presses with, friction by zone included.
std::vector<solver::PressSpec> press_specs(const Case& job, const mesh::Blank& blank);

}  // namespace halftool::io
