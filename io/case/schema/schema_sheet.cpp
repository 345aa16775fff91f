#include <numbers>

#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

constexpr double pi = std::numbers::pi;
constexpr Range full_turn{-2 * pi, 2 * pi};
constexpr Range anywhere{-1e4, 1e4};  // 10 m either way: larger than any press
const std::vector<std::string> cuts = {"not stated", "milled", "laser", "sheared"};

/// Keys of a list of round things in the blank: `[[blank.hole]]`, `[[blank.pin]]`.
template <class Round>
void add_round_keys(Schema& s, const std::string& list, std::vector<Round> mesh::BlankSpec::*member,
                    Range diameter, const std::string& about) {
  const auto at = [member](auto& c, int i) -> auto& {
    return (c.blank.*member).at(static_cast<size_t>(i));
  };
  s.keys.insert(
      s.keys.end(),
      {{.path = list + "[].at",
        .kind = ValueKind::lengths,
        .required = true,
        .unit = "mm",
        .hard = anywhere,
        .n_items = 2,
        .about = "centre of the " + about + " in the blank's own frame",
        .access = {[at](const Case& c, int i) -> std::optional<Value> {
                     const auto& centre = at(c, i).centre;
                     return std::vector<double>{centre.x(), centre.y()};
                   },
                   [at](Case& c, int i, const Value& value) {
                     const auto& place = std::get<std::vector<double>>(value);
                     at(c, i).centre = {place[0], place[1]};
                   }}},
       {.path = list + "[].diameter",
        .kind = ValueKind::length,
        .required = true,
        .unit = "mm",
        .hard = diameter,
        .about = "diameter of the " + about,
        .access = {
            [at](const Case& c, int i) -> std::optional<Value> { return 2 * at(c, i).radius; },
            [at](Case& c, int i, const Value& value) { at(c, i).radius = std::get<double>(value) / 2; }}}});
}

void add_hole_keys(Schema& s) {
  s.lists.push_back({"blank.hole", 0, 1000, [](const Case& c) { return c.blank.holes.size(); },
                     [](Case& c, size_t n) {
                       c.blank.holes.resize(n, {Eigen::Vector2d::Zero(), 0});
                     }});
  add_round_keys(s, "blank.hole", &mesh::BlankSpec::holes, {0.5, 5000}, "hole");
  s.lists.push_back({"blank.pin", 0, 20, [](const Case& c) { return c.blank.pins.size(); },
                     [](Case& c, size_t n) { c.blank.pins.resize(n); }});
  add_round_keys(s, "blank.pin", &mesh::BlankSpec::pins, {0.5, 200}, "locating pin that stands in a hole");
}

Access rectangle_sides() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* r = std::get_if<mesh::RectangleOutline>(&c.blank.outline);
            if (r == nullptr) return std::nullopt;
            return std::vector<double>{r->length, r->width};
          },
          [](Case& c, int, const Value& value) {
            auto& r = std::get<mesh::RectangleOutline>(c.blank.outline);
            r.length = std::get<std::vector<double>>(value)[0];
            r.width = std::get<std::vector<double>>(value)[1];
          }};
}

Access circle_diameter() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* circle = std::get_if<mesh::CircleOutline>(&c.blank.outline);
            return circle == nullptr ? std::nullopt : std::optional<Value>(2 * circle->radius);
          },
          [](Case& c, int, const Value& value) {
            std::get<mesh::CircleOutline>(c.blank.outline).radius = std::get<double>(value) / 2;
          }};
}

Access polygon_corners() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* polygon = std::get_if<mesh::PolygonOutline>(&c.blank.outline);
            if (polygon == nullptr) return std::nullopt;
            std::vector<Pair> corners;
            for (const auto& corner : polygon->corners) corners.push_back({corner.x(), corner.y()});
            return corners;
          },
          [](Case& c, int, const Value& value) {
            auto& corners = std::get<mesh::PolygonOutline>(c.blank.outline).corners;
            corners.clear();
            for (const auto& [x, y] : std::get<std::vector<Pair>>(value)) corners.emplace_back(x, y);
          }};
}

/// One radius in the file serves all corners.
Access polygon_corner_radii() {
  return {[](const Case& c, int) -> std::optional<Value> {
            const auto* polygon = std::get_if<mesh::PolygonOutline>(&c.blank.outline);
            return polygon == nullptr ? std::nullopt : std::optional<Value>(polygon->corner_radii);
          },
          [](Case& c, int, const Value& value) {
            auto& polygon = std::get<mesh::PolygonOutline>(c.blank.outline);
            polygon.corner_radii = std::get<std::vector<double>>(value);
            if (polygon.corner_radii.size() == 1)
              polygon.corner_radii.assign(polygon.corners.size(), polygon.corner_radii.front());
          }};
}

void add_outline_keys(Schema& s) {
  s.choices.push_back(
      {"blank", {"rectangle", "circle", "polygon", "drawing", "step"}, "outline", [](Case& c, size_t member) {
         if (member == 0) c.blank.outline = mesh::RectangleOutline{};
         if (member == 1) c.blank.outline = mesh::CircleOutline{};
         if (member == 2) c.blank.outline = mesh::PolygonOutline{};
         if (member > 2) c.blank.outline = mesh::DrawnOutline{};
         if (member == 3) c.outline_file = BlankDrawing{};
         if (member == 4) c.outline_file = BlankFace{};
       }});
  s.keys.insert(s.keys.end(),
                {{.path = "blank.rectangle",
                  .kind = ValueKind::lengths,
                  .required = true,
                  .unit = "mm",
                  .hard = {1, 1e4},
                  .n_items = 2,
                  .about = "length along the blank's x and width along its y; the origin is its centre",
                  .access = rectangle_sides()},
                 {.path = "blank.corner_radius",
                  .kind = ValueKind::length,
                  .unit = "mm",
                  .hard = {0, 5000},
                  .about = "radius of the four corners of a rectangle",
                  .belongs_to = {"blank.rectangle"},
                  .access = direct([](auto& c) {
                    auto* r = std::get_if<mesh::RectangleOutline>(&c.blank.outline);
                    return r == nullptr ? nullptr : &r->corner_radius;
                  })},
                 {.path = "blank.polygon",
                  .kind = ValueKind::points,
                  .required = true,
                  .unit = "mm",
                  .hard = anywhere,
                  .about = "corners in order around the blank, in its own frame",
                  .access = polygon_corners()},
                 {.path = "blank.corner_radii",
                  .kind = ValueKind::lengths,
                  .unit = "mm",
                  .hard = {0, 5000},
                  .about = "radii of the corners of a polygon: one for all, or one for each",
                  .belongs_to = {"blank.polygon"},
                  .access = polygon_corner_radii()}});
}

/// A member of the drawing or STEP file that holds the outline.
template <class File, class T>
Access outline_file(T File::*member) {
  return direct([member](auto& c) {
    auto* file = std::get_if<File>(&c.outline_file);
    return file == nullptr ? nullptr : &(file->*member);
  });
}

/// The same for a text that need not be given.
Access optional_text(std::optional<std::string> BlankDrawing::*member) {
  return {[member](const Case& c, int) -> std::optional<Value> {
            const auto* file = std::get_if<BlankDrawing>(&c.outline_file);
            if (file == nullptr) return std::nullopt;
            return file->*member ? Value(*(file->*member)) : Value();
          },
          [member](Case& c, int, const Value& value) {
            std::get<BlankDrawing>(c.outline_file).*member = std::get<std::string>(value);
          }};
}

void add_drawing_keys(Schema& s) {
  s.keys.insert(
      s.keys.end(),
      {{.path = "blank.drawing",
        .kind = ValueKind::path,
        .required = true,
        .about = "DXF file with the outline and its holes; its origin and axes are the blank's own",
        .access = outline_file(&BlankDrawing::path)},
       {.path = "blank.layer",
        .kind = ValueKind::text,
        .about = "the only layer of the drawing that counts; not set: all that are on and not frozen",
        .belongs_to = {"blank.drawing"},
        .access = optional_text(&BlankDrawing::layer)},
       {.path = "blank.length_unit",
        .kind = ValueKind::word,
        .words = units_of(Dimension::length),
        .about = "what the drawing is drawn in, where it does not say so itself",
        .belongs_to = {"blank.drawing"},
        .access = optional_text(&BlankDrawing::length_unit)},
       {.path = "blank.step",
        .kind = ValueKind::path,
        .required = true,
        .about = "STEP file whose largest planar face, laid flat, is the blank",
        .access = outline_file(&BlankFace::path)}});
}

void add_imperfection_keys(Schema& s) {
  s.keys.insert(
      s.keys.end(),
      {{.path = "blank.imperfection.amplitude",
        .kind = ValueKind::ratio,
        .hard = {0, 0.5},
        .usual = {0, 0.1},
        .usual_note = "waves as high as a tenth of the thickness can be seen in a blank",
        .about = "how far the blank is out of flat, over its thickness: what buckling starts from; 0: "
                 "exactly flat; 0.01 where only a pattern is given; none on the tool or with a held rim",
        .access = direct([](auto& c) { return &c.blank.flatness.amplitude; })},
       {.path = "blank.imperfection.pattern",
        .kind = ValueKind::count,
        .hard = {1, 1000},
        .about = "which of the fixed patterns of unevenness; another one may start waves elsewhere",
        .access = direct([](auto& c) { return &c.blank.flatness.pattern; })}});
}

}  // namespace

void add_sheet_keys(Schema& s) {
  s.keys.insert(s.keys.end(), {{.path = "sheet.thickness",
                                .kind = ValueKind::length,
                                .required = true,
                                .unit = "mm",
                                .hard = {0.1, 12},
                                .usual = {0.3, 6},
                                .usual_note = "the shell theory is made for sheet of 0.3 to 6 mm",
                                .about = "thickness of the sheet as delivered",
                                .access = direct([](auto& c) { return &c.blank.thickness; })},
                               {.path = "sheet.rolling",
                                .kind = ValueKind::angle,
                                .unit = "deg",
                                .hard = full_turn,
                                .about = "rolling direction, from the blank's own +x",
                                .access = direct([](auto& c) { return &c.blank.rolling_angle; })}});
  add_material_keys(s);
  add_limit_keys(s);
  add_other_sheet_keys(s);
}

void add_blank_keys(Schema& s) {
  add_outline_keys(s);
  add_drawing_keys(s);
  s.keys.insert(
      s.keys.end(),
      {{.path = "blank.place",
        .kind = ValueKind::lengths,
        .unit = "mm",
        .hard = anywhere,
        .n_items = 2,
        .about = "where the origin of the blank's frame lies in the tool's frame",
        .access = {[](const Case& c, int) -> std::optional<Value> {
                     return std::vector<double>{c.blank.place.x(), c.blank.place.y()};
                   },
                   [](Case& c, int, const Value& value) {
                     const auto& at = std::get<std::vector<double>>(value);
                     c.blank.place = {at[0], at[1]};
                   }}},
       {.path = "blank.turn",
        .kind = ValueKind::angle,
        .unit = "deg",
        .hard = full_turn,
        .about = "rotation of the blank about the press axis",
        .access = direct([](auto& c) { return &c.blank.turn; })},
       {.path = "blank.rim",
        .kind = ValueKind::word,
        .words = {"free", "held"},
        .about = "free: the sheet may draw in; held: its outer edge is clamped (bulge test)",
        .access = as_word([](auto& c) { return &c.blank.rim_held; }, {"free", "held"})},
       {.path = "blank.edge",
        .kind = ValueKind::word,
        .words = cuts,
        .about = "how its edges are cut: edges crack earlier the rougher the cut; printed with the share "
                 "of the edge limit",
        .access = as_word([](auto& c) { return &c.edge_cut; }, cuts)},
       {.path = "blank.hole_edge",
        .kind = ValueKind::word,
        .words = cuts,
        .about = "how the rims of its holes are cut, if otherwise",
        .access = as_word([](auto& c) { return &c.hole_cut; }, cuts)},
       {.path = "blank.circle.diameter",
        .kind = ValueKind::length,
        .required = true,
        .unit = "mm",
        .hard = {1, 1e4},
        .about = "diameter of a round blank; the origin is its centre",
        .access = circle_diameter()}});
  add_imperfection_keys(s);
  add_hole_keys(s);
}

}  // namespace halftool::io
