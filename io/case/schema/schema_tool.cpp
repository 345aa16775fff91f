#include <numbers>

#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr Range measure{0.1, 1e4};
constexpr Range radius{0.05, 5000};
/// In the order of mesh::PressAxis.
const std::vector<std::string> press_axes = {"+z", "-z", "+x", "-x", "+y", "-y"};

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

/// How the shape from a file is placed; null for parametric shapes.
template <class AnyCase>
auto placement_of(AnyCase& c) {
  auto* step = std::get_if<mesh::StepShape>(&c.tool.shape);
  auto* stl = std::get_if<mesh::StlShape>(&c.tool.shape);
  if (step != nullptr) return &step->placement;
  return stl == nullptr ? nullptr : &stl->placement;
}

Access file_place() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* placement = placement_of(c);
            if (placement == nullptr) return std::nullopt;
            const auto& at = placement->place;
            return std::vector<double>{at.x(), at.y(), at.z()};
          },
          [](Case& c, int, const Value& value) {
            const auto& at = std::get<std::vector<double>>(value);
            placement_of(c)->place = {at[0], at[1], at[2]};
          }};
}

Access file_turn() {
  return direct([](auto& c) {
    auto* placement = placement_of(c);
    return placement == nullptr ? nullptr : &placement->turn;
  });
}

Access press_axis() {
  const auto word = as_word([](auto& c) { return &placement_of(c)->press_axis; }, press_axes);
  return {[word](const Case& c, int index) {
            return placement_of(c) == nullptr ? std::nullopt : word.get(c, index);
          },
          word.set};
}

template <class Shape>
Access file_path() {
  return direct([](auto& c) {
    auto* shape = std::get_if<Shape>(&c.tool.shape);
    return shape == nullptr ? nullptr : &shape->path;
  });
}

/// The unit of an STL file by its name.
Access stl_unit() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* stl = std::get_if<mesh::StlShape>(&c.tool.shape);
            if (stl == nullptr) return std::nullopt;
            for (const auto& unit : units_of(Dimension::length))
              if (stl->unit == parse_quantity("1 " + unit, Dimension::length).value) return unit;
            return std::monostate{};
          },
          [](Case& c, int, const Value& value) {
            const auto one = parse_quantity("1 " + std::get<std::string>(value), Dimension::length);
            std::get<mesh::StlShape>(c.tool.shape).unit = one.value.value();
          }};
}

void add_file_keys(Schema& s) {
  const std::vector<std::string> files = {"tool.step", "tool.stl"};
  s.keys.insert(
      s.keys.end(),
      {{.path = "tool.step",
        .kind = ValueKind::path,
        .required = true,
        .about = "STEP file of the tool half; the path is relative to the case file",
        .access = file_path<mesh::StepShape>()},
       {.path = "tool.stl",
        .kind = ValueKind::path,
        .required = true,
        .about = "STL file of the tool half; the path is relative to the case file",
        .access = file_path<mesh::StlShape>()},
       {.path = "tool.length_unit",
        .kind = ValueKind::word,
        .required = true,
        .words = units_of(Dimension::length),
        .about = "unit of the numbers in the STL file, which holds none",
        .belongs_to = {"tool.stl"},
        .access = stl_unit()},
       {.path = "tool.press_axis",
        .kind = ValueKind::word,
        .words = press_axes,
        .about = "direction in the file's frame that points up to the fluid; a quarter turn about the file's "
                 "y axis "
                 "(from +-x) or x axis (from +-y), or half a turn about its x axis (from -z), makes it +z",
        .belongs_to = files,
        .access = press_axis()},
       {.path = "tool.turn",
        .kind = ValueKind::angle,
        .unit = "deg",
        .hard = {-360 * degree, 360 * degree},
        .about = "rotation about z after that",
        .belongs_to = files,
        .access = file_turn()},
       {.path = "tool.place",
        .kind = ValueKind::lengths,
        .unit = "mm",
        .hard = {-1e4, 1e4},
        .n_items = 3,
        .about = "shift of the file's origin after both",
        .belongs_to = files,
        .access = file_place()}});
}

Access allowed_stress() {
  return {[](const Case& c, int) -> std::optional<Value> {
            return c.tool_allowed_stress ? Value(*c.tool_allowed_stress) : Value();
          },
          [](Case& c, int, const Value& value) { c.tool_allowed_stress = std::get<double>(value); }};
}

}  // namespace

void add_tool_keys(Schema& s) {
  s.choices.push_back({"tool",
                       {"block", "cylinder", "cavity", "step", "stl"},
                       "shape of the tool half",
                       [](Case& c, size_t member) {
                         if (member == 0) c.tool.shape = mesh::StraightBlock{};
                         if (member == 1) c.tool.shape = mesh::CylinderBlock{};
                         if (member == 2) c.tool.shape = mesh::RoundCavity{};
                         if (member == 3) c.tool.shape = mesh::StepShape{};
                         if (member == 4) c.tool.shape = mesh::StlShape{};
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
                  .access = allowed_stress()}});
  add_file_keys(s);
  add_block_keys(s);
  add_other_shape_keys(s);
}

}  // namespace halftool::io
