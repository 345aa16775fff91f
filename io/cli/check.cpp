#include "io/cli/check.hpp"

#include <fmt/format.h>

#include <iostream>
#include <numbers>

#include "io/cli/exit_code.hpp"
#include "io/cli/tool_screening.hpp"
#include "io/report/screen_text.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::io {
namespace {

std::string tool_facts(const mesh::ToolSurface& tool) {
  auto text = fmt::format("# tool half: {} facets, {} nodes, at most {:.2g} mm from its CAD surface\n",
                          tool.mesh().n_triangles(), tool.mesh().n_nodes(), tool.geometric_error);
  for (const auto& note : tool.notes) text += "#   " + note + '\n';
  return text;
}

std::string outline_facts(const mesh::BlankSpec& blank) {
  const auto* drawn = std::get_if<mesh::DrawnOutline>(&blank.outline);
  if (drawn == nullptr) return {};
  std::string text = "# outline of the blank\n";
  for (const auto& fact : drawn->facts) text += "#   " + fact + '\n';
  return text;
}

std::string blank_facts(const mesh::Blank& blank) {
  const double smallest = mesh::smallest_angles(blank.mesh).minCoeff() * 180 / std::numbers::pi;
  auto text = fmt::format("# blank: {} triangles, {} nodes, {} edges, smallest angle {:.1f} deg\n",
                          blank.mesh.n_triangles(), blank.mesh.n_nodes(), blank.edges.n_edges(), smallest);
  for (const auto& rim : blank.pins)
    text += fmt::format(
        "#   pin of {:.4g} mm at ({:.6g}, {:.6g}): {} edges of its hole's rim, clearance {:.3g} mm\n",
        2 * rim.pin.radius, rim.pin.centre.x(), rim.pin.centre.y(), rim.edges.size(), rim.clearance);
  for (const auto& reason : blank.size_reasons) text += "#   " + reason + '\n';
  return text;
}

}  // namespace

void print_warnings(const Case& job) {
  for (const auto& warning : job.warnings) std::cerr << "warning: " << print_problem(warning) << "\n\n";
}

int run_check(const Case& job) {
  print_warnings(job);
  const auto tool = mesh::make_tool(job.tool);
  const auto blank = mesh::make_blank(job.blank, job.blank_mesh, tool);
  std::cout << "# The complete case. A value marked 'default' does not stand in the case file.\n"
            << print_case(job) << "\n# The meshes that it gives\n"
            << tool_facts(tool) << outline_facts(job.blank) << blank_facts(blank) << '\n'
            << print_screens(screen_tool(job, blank, tool), "# ");
  return as_int(ExitCode::done);
}

}  // namespace halftool::io
