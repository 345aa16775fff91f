#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "io/case/checks/case_checks.hpp"
#include "io/case/document.hpp"
#include "io/case/quantity.hpp"
#include "mesh/outline.hpp"

namespace halftool::io {
namespace {

std::string mm(double length) {
  return print_quantity(length, Dimension::length, "mm");
}

void check_kind(const CheckedCase& c) {
  if (!c.sound({"tool.kind"}) || !c.decided("tool")) return;
  const bool cavity = std::holds_alternative<mesh::RoundCavity>(c.values.tool.shape);
  if (std::holds_alternative<mesh::StepShape>(c.values.tool.shape)) return;  // the shape is not known yet
  if (std::holds_alternative<mesh::StlShape>(c.values.tool.shape)) return;
  if (cavity == (c.values.tool_kind == ToolKind::cavity)) return;
  c.error("tool.kind", cavity ? "\"block\"" : "\"cavity\"",
          cavity ? "\"cavity\" for the shape [tool.cavity]" : "\"block\" for this shape",
          "write the kind that the shape has, or change the shape");
}

void check_block(const CheckedCase& c, const mesh::StraightBlock& block) {
  if (!c.sound({"tool.block"})) return;
  const double most = std::min(block.height, block.length / 2);
  if (block.edge_radius >= most)
    c.error("tool.block.edge_radius", mm(block.edge_radius),
            fmt::format("below {}, the height and half the length", mm(most)),
            "make the radius smaller or the block larger");
}

void check_cylinder(const CheckedCase& c, const mesh::CylinderBlock& cylinder) {
  if (c.sound({"tool.cylinder"}) && cylinder.height < cylinder.radius)
    c.error("tool.cylinder.height", mm(cylinder.height),
            fmt::format("at least the radius, {}", mm(cylinder.radius)),
            "the block is a half cylinder on a base: make it as high as its radius or higher");
}

void check_cavity(const CheckedCase& c, const mesh::RoundCavity& cavity) {
  if (!c.sound({"tool.cavity"})) return;
  if (cavity.depth < cavity.entry_radius)
    c.error("tool.cavity.depth", mm(cavity.depth),
            fmt::format("at least the entry radius, {}", mm(cavity.entry_radius)),
            "make the cavity deeper or the radius smaller");
  const double lip = cavity.opening_radius + cavity.entry_radius;
  if (cavity.outer_radius <= lip)
    c.error("tool.cavity.outer_diameter", mm(2 * cavity.outer_radius),
            fmt::format("above {}, the opening and its entry radius", mm(2 * lip)),
            "make the rim wider or the opening smaller");
}

/// The tightest radius that the sheet bends over [mm], and its key; nothing known of a file.
std::pair<double, std::string> working_radius(const mesh::ToolShape& shape) {
  if (const auto* block = std::get_if<mesh::StraightBlock>(&shape))
    return {block->edge_radius, "tool.block.edge_radius"};
  if (const auto* cylinder = std::get_if<mesh::CylinderBlock>(&shape))
    return {cylinder->radius, "tool.cylinder.radius"};
  if (const auto* cavity = std::get_if<mesh::RoundCavity>(&shape))
    return {cavity->entry_radius, "tool.cavity.entry_radius"};
  return {0, ""};
}

/// Half extents along x and y of what the sheet has to cover [mm]; zero: not known or no such duty.
Eigen::Vector2d half_extent(const mesh::ToolShape& shape) {
  if (const auto* block = std::get_if<mesh::StraightBlock>(&shape))
    return {block->length / 2, block->width / 2};
  if (const auto* cylinder = std::get_if<mesh::CylinderBlock>(&shape))
    return {cylinder->radius, cylinder->width / 2};
  if (const auto* cavity = std::get_if<mesh::RoundCavity>(&shape))
    return Eigen::Vector2d::Constant(cavity->opening_radius + cavity->entry_radius);
  return Eigen::Vector2d::Zero();
}

void check_radius(const CheckedCase& c) {
  const auto [radius, key] = working_radius(c.values.tool.shape);
  const double thickness = c.values.blank.thickness;
  if (key.empty() || !c.sound({key, "sheet.thickness"})) return;
  const auto found =
      fmt::format("{}, {:.2g} times the thickness of {}", mm(radius), radius / thickness, mm(thickness));
  if (radius < 0.5 * thickness)
    c.error(key, found, "at least half the thickness", "use a larger radius; check the units of both");
  else if (radius < 1.5 * thickness)
    c.warning(key, found, "usually at least 1.5 times the thickness",
              fmt::format("the outer fibre stretches by about {:.0f} % and shell theory loses accuracy",
                          100 * std::log1p(0.5 * thickness / (radius + 0.5 * thickness))));
}

/// Two drawings in different units differ by 25.4; a blank that fits its tool never does.
bool differs_like_inches(double ratio) {
  constexpr double inch = 25.4;
  constexpr double spread = 1.35;
  return (ratio > inch / spread && ratio < inch * spread) ||
         (1 / ratio > inch / spread && 1 / ratio < inch * spread);
}

void check_cover(const CheckedCase& c) {
  const auto tool = half_extent(c.values.tool.shape);
  if (tool.isZero() || !c.sound({"blank", "tool"})) return;
  const auto outline = mesh::place_outline(c.values.blank);
  const double ratio = (outline.high - outline.low).maxCoeff() / (2 * tool.maxCoeff());
  const auto shape_key = outline_key(c.values);
  if (differs_like_inches(ratio)) {
    c.error(shape_key, fmt::format("a blank {:.3g} times as large as the tool", ratio),
            "a blank that fits the tool", "mixed inches and millimetres? Check the units of both");
    return;
  }
  if (unlike_in_size(ratio))
    return c.warning(shape_key, fmt::format("a blank {:.3g} times as large as the tool", ratio),
                     "a blank that fits the tool", "mixed inches and millimetres? Check the units of both");
  const Eigen::Vector2d short_of = (tool - outline.high).cwiseMax(outline.low + tool);
  for (const int axis : {0, 1})
    if (short_of[axis] > 1e-6)
      c.warning(shape_key,
                fmt::format("{} of the tool along {} with no sheet above it", mm(short_of[axis]),
                            axis == 0 ? "x" : "y"),
                "a blank that covers the tool",
                "the pad meets bare tool edges there; enlarge the blank or move it");
}

void check_rim(const CheckedCase& c) {
  if (!c.sound({"blank.rim", "tool"}) || !c.values.blank.rim_held) return;
  if (!std::holds_alternative<mesh::RoundCavity>(c.values.tool.shape) &&
      c.values.tool_kind == ToolKind::block)
    c.warning("blank.rim", "\"held\"", "usually \"free\" over a block",
              "a held rim is meant for bulging into a cavity");
}

void check_held_pins(const CheckedCase& c) {
  const std::size_t pins = c.values.blank.pins.size();
  if (!c.sound({"blank.rim", "blank.pin"}) || !c.values.blank.rim_held || pins == 0) return;
  c.warning("blank.rim", fmt::format("\"held\" beside {} pin{}", pins, pins == 1 ? "" : "s"),
            "pins in a blank whose rim is free, or a held rim without pins",
            "the held rim places the sheet already and the pins only hinder it: leave one of the two out");
}

}  // namespace

bool unlike_in_size(double ratio) {
  constexpr double unlike = 12;
  return ratio > unlike || ratio * unlike < 1;
}

void check_tool(const CheckedCase& c) {
  const auto& shape = c.values.tool.shape;
  if (!c.sound({"tool.step", "tool.stl"})) return;
  check_kind(c);
  if (const auto* block = std::get_if<mesh::StraightBlock>(&shape)) check_block(c, *block);
  if (const auto* cylinder = std::get_if<mesh::CylinderBlock>(&shape)) check_cylinder(c, *cylinder);
  if (const auto* cavity = std::get_if<mesh::RoundCavity>(&shape)) check_cavity(c, *cavity);
  if (const auto* step = std::get_if<mesh::StepShape>(&shape))
    check_shape_file(c, "tool.step", step->path, {".step", ".stp"}, "a STEP file, .step or .stp",
                     "export the tool half as STEP (ISO 10303), or give an STL file as stl");
  if (const auto* stl = std::get_if<mesh::StlShape>(&shape))
    check_shape_file(c, "tool.stl", stl->path, {".stl"}, "an STL file, .stl",
                     "give STEP files as step = \"...\"");
}

void check_fit(const CheckedCase& c) {
  check_radius(c);
  check_cover(c);
  check_rim(c);
  check_held_pins(c);
  check_stl_size(c);
}

void check_shape_file(const CheckedCase& c, const std::string& key, const std::string& path,
                      const std::vector<std::string>& suffixes, const std::string& what,
                      const std::string& mend) {
  if (!c.given(key)) return;
  auto suffix = std::filesystem::path(path).extension().string();
  std::transform(suffix.begin(), suffix.end(), suffix.begin(),
                 [](unsigned char l) { return std::tolower(l); });
  if (std::find(suffixes.begin(), suffixes.end(), suffix) == suffixes.end()) {
    c.error(key, toml_text(path), what, mend);
    return;
  }
  std::error_code code;
  if (!std::filesystem::is_regular_file(path, code))
    c.error(key, fmt::format("no file {}", toml_text(path)), "a path relative to the case file",
            "check the path");
}

}  // namespace halftool::io
