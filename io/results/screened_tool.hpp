#pragma once
#include <string>
#include <vector>

#include "solver/assessment/screen.hpp"

namespace halftool::io {

/// The screens of a tool half as it stands in some of the steps.
struct ScreenedTool {
  std::string
      from_step;  ///< step from which it stands, as step_name has it; empty: the tool half never changes
  double pressure = 0;                  ///< greatest of the steps in which it stands so [MPa]
  std::vector<solver::Screen> screens;  ///< against the sheet and that pressure
};

}  // namespace halftool::io
