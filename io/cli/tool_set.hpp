#pragma once
#include <string>
#include <vector>

#include "io/case/case.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::io {

/// The tool half as it stands in each step.
struct ToolSet {
  std::vector<mesh::ToolSurface> tools;  ///< one for each change
  std::vector<int> of_step;              ///< (n_steps) in `tools`
  double seconds = 0;                    ///< wall time that it took

  [[nodiscard]] const mesh::ToolSurface& in_step(std::size_t step) const {
    return tools[static_cast<std::size_t>(of_step[step])];
  }
  [[nodiscard]] const mesh::ToolSurface& last() const { return in_step(of_step.size() - 1); }
  /// Greatest pressure of the steps in which a tool stands [MPa].
  [[nodiscard]] double peak_on(const Case& job, std::size_t tool) const;
  /// First step in which a tool stands, from 0.
  [[nodiscard]] std::size_t first_step_on(std::size_t tool) const;
};

/// A step for messages: its name in quotes, or its number from 1.
std::string step_name(const Case& job, std::size_t step);

/// @param for_measuring  see mesh::ToolSpec
/// @throws CaseError  a tool half or an insert that cannot be built, at its key
ToolSet make_tools(const Case& job, bool for_measuring = false);

}  // namespace halftool::io
