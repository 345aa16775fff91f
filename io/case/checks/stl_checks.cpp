#include <fmt/format.h>

#include <algorithm>

#include "io/case/checks/case_checks.hpp"
#include "io/case/document.hpp"
#include "io/case/quantity.hpp"
#include "io/case/schema/schema.hpp"
#include "mesh/outline.hpp"
#include "mesh/stl_file.hpp"

namespace halftool::io {
namespace {

std::string size_text(const Eigen::Vector3d& size) {
  return fmt::format("{:.3g} x {:.3g} x {:.3g} mm", size.x(), size.y(), size.z());
}

/// What the other units would make of the tool.
std::string other_sizes(const mesh::StlShape& shape, const Eigen::Vector3d& size) {
  std::string text;
  for (const char* unit : {"mm", "in"}) {
    const double one = parse_quantity(fmt::format("1 {}", unit), Dimension::length).value.value();
    if (one == shape.unit) continue;
    text += fmt::format("{} {} {}", text.empty() ? ": as" : ", as", toml_text(unit),
                        text.empty() ? "the tool is " : "");
    text += size_text(size * (one / shape.unit));
  }
  return "the unit of the STL file may be another one" + text;
}

}  // namespace

void check_stl_size(const CheckedCase& c) {
  const auto* shape = std::get_if<mesh::StlShape>(&c.values.tool.shape);
  if (shape == nullptr || !c.given("tool.stl") || !c.sound({"tool.stl", "tool.length_unit"})) return;
  Eigen::Vector3d size;
  try {
    const mesh::SurfaceMesh facets = mesh::read_stl(shape->path, shape->unit);
    size = facets.nodes.colwise().maxCoeff() - facets.nodes.colwise().minCoeff();
  } catch (const mesh::MeshError& error) {
    c.error("tool.stl", error.what(), "a readable STL file",
            "export the tool half again, as binary STL or STEP");
    return;
  }
  const double largest = size.maxCoeff();
  if (!usual_tool_size.holds(largest)) {
    c.warning("tool.length_unit", "a tool of " + size_text(size), "usually 5 mm to 5 m",
              other_sizes(*shape, size));
    return;
  }
  if (!c.sound({"blank"})) return;
  const auto outline = mesh::place_outline(c.values.blank);
  const double ratio = (outline.high - outline.low).maxCoeff() / largest;
  if (unlike_in_size(ratio))
    c.warning("tool.length_unit",
              fmt::format("a tool of {} under a blank {:.3g} times as large", size_text(size), ratio),
              "a blank that fits the tool", other_sizes(*shape, size));
}

}  // namespace halftool::io
