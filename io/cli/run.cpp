#include "io/cli/run.hpp"

#include <iostream>

#include "io/cli/check.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/run_folder.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::io {

int run_press(const Case& job, const PressOptions& options) {
  print_warnings(job);
  RunFolder folder(options.folder, options.replace);
  const auto tool = mesh::make_tool(job.tool);
  const auto blank = mesh::make_blank(job.blank, job.blank_mesh, tool);
  const std::string reason = "tool and blank were built; this version does not press yet";
  std::cerr << reason << '\n';
  folder.keep_incomplete(reason);
  return as_int(ExitCode::not_completed);
}

}  // namespace halftool::io
