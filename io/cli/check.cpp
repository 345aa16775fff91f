#include "io/cli/check.hpp"

#include <fmt/format.h>

#include <iostream>
#include <numbers>

#include "io/cli/exit_code.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/press_job.hpp"
#include "io/cli/setup_checks.hpp"
#include "io/cli/sheet_facts.hpp"
#include "io/cli/tool_screening.hpp"
#include "io/report/screen_text.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"

namespace halftool::io {
namespace {

std::string tool_facts(const mesh::ToolSurface& tool) {
  auto text =
      fmt::format("# tool half: {} facets, {} nodes\n", tool.mesh().n_triangles(), tool.mesh().n_nodes());
  for (const auto& note : tool.notes) text += "#   " + note + '\n';
  return text;
}

std::string tools_facts(const Case& job, const ToolSet& set) {
  if (set.tools.size() == 1) return tool_facts(set.tools.front());
  std::string text;
  for (std::size_t i = 0; i < set.tools.size(); ++i)
    text += "# from step " + step_name(job, set.first_step_on(i)) + " on\n" + tool_facts(set.tools[i]);
  return text;
}

/// Where the constants of a sheet of the stock come from.
std::string stock_facts(const Case& job) {
  if (!job.stock) return fmt::format("# constants: {}, {}\n", job.material.grade, job.material.source);
  auto text = fmt::format("# sheet {} of the stock, worst grade: {}\n", job.stock->name, job.material.grade);
  for (const ConstantOrigin& origin : job.stock->origins) text += "#   " + print_origin(origin) + '\n';
  if (!job.stock->caution.empty()) text += "#   caution: " + job.stock->caution + '\n';
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

void print_warnings(const std::vector<CaseWarning>& warnings) {
  for (const auto& warning : warnings) std::cerr << "warning: " << print_problem(warning) << "\n\n";
}

void print_warnings(const std::vector<std::string>& warnings) {
  for (const auto& warning : warnings) std::cerr << "warning: " << warning << "\n\n";
}

int run_check(Case job) {
  print_warnings(job.warnings);
  complete_limit(job);
  const Setup setup = make_setup(job);
  const ToolSet& set = *setup.tools;
  print_warnings(tool_doubts(job, set));
  print_warnings(setup_doubts(job, set));
  print_warnings(zone_doubts(job, setup.blank));
  const double level = setup.blank.mesh.nodes(0, 2) - 0.5 * setup.blank.thickness;
  std::cout << "# The complete case. A value marked 'default' or 'stock' does not stand in the case file.\n"
            << print_case(job) << "\n# What it says of the sheet\n"
            << limit_facts(job) << edge_and_bend_facts(job) << stock_facts(job) << sheet_facts(job.material)
            << "\n# The meshes that it gives\n"
            << tools_facts(job, set) << outline_facts(job.blank) << blank_facts(setup.blank) << '\n';
  for (std::size_t i = 0; i < set.tools.size(); ++i) {
    if (set.tools.size() > 1)
      std::cout << "# Tool half from step " << step_name(job, set.first_step_on(i)) << " on\n";
    const ToolSurvey survey(job, set.tools[i], level);
    std::cout << print_screens(screen_tool(job, survey, set.peak_on(job, i)), "# ");
  }
  return as_int(ExitCode::done);
}

}  // namespace halftool::io
