#include <numbers>

#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr Range measure{0.1, 1e4};
constexpr Range radius{0.05, 5000};

/// A measure of the parametric tool shape of type Shape.
template <class Shape>
Access shape_measure(double Shape::*length) {
  return direct([length](auto& c) {
    auto* shape = std::get_if<Shape>(&c.tool.shape);
    return shape == nullptr ? nullptr : &(shape->*length);
  });
}

/// The same where the file gives the diameter and the shape holds the radius.
template <class Shape>
Access shape_diameter(double Shape::*half) {
  return {[half](const Case& c, int) -> std::optional<Value> {
            const auto* shape = std::get_if<Shape>(&c.tool.shape);
            return shape == nullptr ? std::nullopt : std::optional<Value>(2 * (shape->*half));
          },
          [half](Case& c, int, const Value& value) {
            std::get<Shape>(c.tool.shape).*half = std::get<double>(value) / 2;
          }};
}

KeySpec length_key(std::string path, Range range, std::string about, Access access) {
  return {.path = std::move(path),
          .kind = ValueKind::length,
          .required = true,
          .unit = "mm",
          .hard = range,
          .about = std::move(about),
          .access = std::move(access)};
}

void add_block_keys(Schema& s) {
  using mesh::StraightBlock;
  s.keys.insert(s.keys.end(), {length_key("tool.block.length", measure,
                                          "distance between the two walls at the edge radius, along x",
                                          shape_measure(&StraightBlock::length)),
                               length_key("tool.block.width", measure, "along the working edges, y",
                                          shape_measure(&StraightBlock::width)),
                               length_key("tool.block.height", measure, "of the top above the tray floor",
                                          shape_measure(&StraightBlock::height)),
                               length_key("tool.block.edge_radius", radius, "of the two working edges",
                                          shape_measure(&StraightBlock::edge_radius)),
                               {.path = "tool.block.wall_angle",
                                .kind = ValueKind::angle,
                                .unit = "deg",
                                .hard = {20 * degree, 93 * degree},
                                .usual = {20 * degree, 90 * degree},
                                .usual_note = "past 90 deg the walls lean in and the part grips the block",
                                .about = "through which the sheet folds: between the top plane and the wall",
                                .access = shape_measure(&StraightBlock::wall_angle)}});
}

void add_other_shape_keys(Schema& s) {
  using mesh::CylinderBlock;
  using mesh::RoundCavity;
  s.keys.insert(s.keys.end(),
                {length_key("tool.cylinder.radius", radius, "of the half cylinder that lies along y",
                            shape_measure(&CylinderBlock::radius)),
                 length_key("tool.cylinder.width", measure, "along y", shape_measure(&CylinderBlock::width)),
                 length_key("tool.cylinder.height", measure, "of the crown above the tray floor",
                            shape_measure(&CylinderBlock::height)),
                 length_key("tool.cavity.opening_diameter", measure, "of the wall below the lip",
                            shape_diameter(&RoundCavity::opening_radius)),
                 length_key("tool.cavity.entry_radius", radius, "of the lip",
                            shape_measure(&RoundCavity::entry_radius)),
                 length_key("tool.cavity.depth", measure, "of the floor below the rim",
                            shape_measure(&RoundCavity::depth)),
                 length_key("tool.cavity.outer_diameter", measure, "of the flat rim",
                            shape_diameter(&RoundCavity::outer_radius))});
}

Access step_place() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* step = std::get_if<mesh::StepShape>(&c.tool.shape);
            if (step == nullptr) return std::nullopt;
            return std::vector<double>{step->place.x(), step->place.y(), step->place.z()};
          },
          [](Case& c, int, const Value& value) {
            const auto& at = std::get<std::vector<double>>(value);
            std::get<mesh::StepShape>(c.tool.shape).place = {at[0], at[1], at[2]};
          }};
}

template <class T>
Access step_member(T mesh::StepShape::*member) {
  return direct([member](auto& c) {
    auto* step = std::get_if<mesh::StepShape>(&c.tool.shape);
    return step == nullptr ? nullptr : &(step->*member);
  });
}

Access allowed_stress() {
  return {[](const Case& c, int) -> std::optional<Value> {
            return c.tool_allowed_stress ? Value(*c.tool_allowed_stress) : Value();
          },
          [](Case& c, int, const Value& value) { c.tool_allowed_stress = std::get<double>(value); }};
}

}  // namespace

void add_tool_keys(Schema& s) {
  s.choices.push_back(
      {"tool", {"block", "cylinder", "cavity", "step"}, "shape of the tool half", [](Case& c, size_t member) {
         if (member == 0) c.tool.shape = mesh::StraightBlock{};
         if (member == 1) c.tool.shape = mesh::CylinderBlock{};
         if (member == 2) c.tool.shape = mesh::RoundCavity{};
         if (member == 3) c.tool.shape = mesh::StepShape{};
       }});
  s.keys.insert(s.keys.end(),
                {{.path = "tool.kind",
                  .kind = ValueKind::word,
                  .required = true,
                  .words = {"block", "cavity"},
                  .about = "block: the sheet goes over it; cavity: the sheet goes into it",
                  .access = as_word([](auto& c) { return &c.tool_kind; }, {"block", "cavity"})},
                 {.path = "tool.tray_floor",
                  .kind = ValueKind::flag,
                  .about = "lay a flat tray floor around the tool at its lowest point",
                  .access = direct([](auto& c) { return &c.tool.tray_floor; })},
                 {.path = "tool.material",
                  .kind = ValueKind::text,
                  .about = "what the tool half is made of, for the record; it is rigid in the computation",
                  .access = direct([](auto& c) { return &c.tool_material; })},
                 {.path = "tool.allowed_stress",
                  .kind = ValueKind::pressure,
                  .unit = "MPa",
                  .hard = {0, 5000, true},
                  .usual = {5, 1500},
                  .about = "stress that the tool half may bear, for the screen of walls and rings",
                  .access = allowed_stress()},
                 {.path = "tool.step",
                  .kind = ValueKind::path,
                  .required = true,
                  .about = "STEP file of the tool half, press axis +z; the path is relative to the case file",
                  .access = step_member(&mesh::StepShape::path)},
                 {.path = "tool.place",
                  .kind = ValueKind::lengths,
                  .unit = "mm",
                  .hard = {-1e4, 1e4},
                  .n_items = 3,
                  .about = "shift of the STEP file's origin",
                  .belongs_to = "tool.step",
                  .access = step_place()},
                 {.path = "tool.turn",
                  .kind = ValueKind::angle,
                  .unit = "deg",
                  .hard = {-360 * degree, 360 * degree},
                  .about = "rotation of the STEP file about the press axis",
                  .belongs_to = "tool.step",
                  .access = step_member(&mesh::StepShape::turn)}});
  add_block_keys(s);
  add_other_shape_keys(s);
}

}  // namespace halftool::io
