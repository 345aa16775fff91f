#include <numbers>

#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr const char* friction_note = "film 0.03 to 0.06, oil 0.08 to 0.12, dry 0.15 to 0.25 (from memory)";

const std::vector<std::string> lubricants = {no_lubricant, "dry", "oil", "film"};

/// A preset moves the defaults of the method; keys of [method] in the file stand above it.
void apply_detail(Case& c, Detail detail) {
  c.detail = detail;
  const auto preset = static_cast<size_t>(detail);
  constexpr std::array elements{6.0, 10.0, 14.0};
  constexpr std::array layers{7, 15, 23};
  c.blank_mesh.elements_per_bend = elements.at(preset);
  c.settings.layers = layers.at(preset);
}

Access schedule() {
  return {[](const Case& c, int i) -> std::optional<Value> {
            std::vector<Pair> points;
            for (const auto& point : c.steps.at(static_cast<size_t>(i)).schedule)
              points.push_back({point.share, point.pressure});
            return points;
          },
          [](Case& c, int i, const Value& value) {
            auto& schedule = c.steps.at(static_cast<size_t>(i)).schedule;
            schedule.clear();
            for (const auto& [share, pressure] : std::get<std::vector<Pair>>(value))
              schedule.push_back({share, pressure});
          }};
}

Access zone_corners() {
  return {[](const Case& c, int i) -> std::optional<Value> {
            std::vector<Pair> corners;
            for (const auto& at : c.friction_zones.at(static_cast<size_t>(i)).corners)
              corners.push_back({at.x(), at.y()});
            return corners;
          },
          [](Case& c, int i, const Value& value) {
            auto& corners = c.friction_zones.at(static_cast<size_t>(i)).corners;
            corners.clear();
            for (const auto& [x, y] : std::get<std::vector<Pair>>(value)) corners.emplace_back(x, y);
          }};
}

Access symmetry_planes() {
  return {[](const Case& c, int) -> std::optional<Value> {
            std::vector<std::string> planes;
            if (c.blank.symmetric_x) planes.emplace_back("x");
            if (c.blank.symmetric_y) planes.emplace_back("y");
            return planes;
          },
          [](Case& c, int, const Value& value) {
            c.blank.symmetric_x = c.blank.symmetric_y = false;
            for (const auto& plane : std::get<std::vector<std::string>>(value))
              (plane == "x" ? c.blank.symmetric_x : c.blank.symmetric_y) = true;
          }};
}

/// A limit that need not be set.
Access optional_limit(std::optional<double> Limits::*limit) {
  return {[limit](const Case& c, int) -> std::optional<Value> {
            return c.limits.*limit ? Value(*(c.limits.*limit)) : Value();
          },
          [limit](Case& c, int, const Value& value) { c.limits.*limit = std::get<double>(value); }};
}

void add_edge_and_bend_keys(Schema& s) {
  s.keys.insert(
      s.keys.end(),
      {{.path = "limits.edge_stretch",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 5, true},
        .usual = {0.03, 1.5},
        .about = "largest growth of a cut edge over its length; edges are not judged where neither it nor "
                 "hole_expansion is set",
        .access = optional_limit(&Limits::edge_stretch)},
       {.path = "limits.hole_expansion",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 5, true},
        .usual = {0.05, 3},
        .about =
            "the same as a hole expansion ratio (ISO 16630) of this sheet, cut as the blank is: true strain "
            "ln(1 + ratio) along the edge",
        .access = optional_limit(&Limits::hole_expansion)},
       {.path = "limits.hole_stretch",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 5, true},
        .usual = {0.03, 1.5},
        .about =
            "largest growth of a hole's rim where holes are cut otherwise than the outline; not given: as "
            "edge_stretch or hole_expansion",
        .access = optional_limit(&Limits::hole_stretch)},
       {.path = "limits.trim_stretch",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 5, true},
        .usual = {0.03, 1.5},
        .about = "largest growth of an edge that is trimmed between steps, from then on; not given: as "
                 "edge_stretch or hole_expansion",
        .access = optional_limit(&Limits::trim_stretch)},
       {.path = "limits.bend_ratio",
        .kind = ValueKind::number,
        .hard = {0, 100},
        .usual = {0, 20},
        .about =
            "least inside radius of a bend over the thickness: fibre strain ln(1 + 1/(2 ratio + 1)); bends "
            "are not judged where neither it nor bend_strain is set",
        .access = optional_limit(&Limits::bend_ratio)},
       {.path = "limits.bend_strain",
        .kind = ValueKind::ratio,
        .hard = {0, 2, true},
        .usual = {0.02, 1},
        .about = "largest true strain of the outer fibre of a bend, as measured",
        .access = optional_limit(&Limits::bend_strain)}});
}

void add_zone_keys(Schema& s) {
  s.lists.push_back({"lubrication.zone", 0, 50, [](const Case& c) { return c.friction_zones.size(); },
                     [](Case& c, size_t n) { c.friction_zones.resize(n); }});
  s.keys.insert(s.keys.end(),
                {{.path = "lubrication.zone[].name",
                  .kind = ValueKind::text,
                  .about = "of a part of the blank with a lubrication of its own",
                  .access = in_list(&Case::friction_zones, &FrictionZone::name)},
                 {.path = "lubrication.zone[].lubricant",
                  .kind = ValueKind::word,
                  .words = lubricants,
                  .about = "what is there, printed with the results",
                  .access = in_list(&Case::friction_zones, &FrictionZone::lubricant)},
                 {.path = "lubrication.zone[].mu",
                  .kind = ValueKind::ratio,
                  .required = true,
                  .hard = {0, 0.5},
                  .usual = {0.03, 0.25},
                  .usual_note = friction_note,
                  .about = "friction between sheet and tool there",
                  .access = in_list(&Case::friction_zones, &FrictionZone::mu)},
                 {.path = "lubrication.zone[].polygon",
                  .kind = ValueKind::points,
                  .required = true,
                  .unit = "mm",
                  .hard = {-1e4, 1e4},
                  .about = "corners of the zone in the blank's own frame; triangles whose middle "
                           "lies inside belong to it; a later zone lies over an earlier one",
                  .access = zone_corners()}});
}

void add_press_keys(Schema& s) {
  s.lists.push_back({"step", 1, 20, [](const Case& c) { return c.steps.size(); },
                     [](Case& c, size_t n) { c.steps.resize(n); }});
  s.keys.insert(
      s.keys.end(),
      {{.path = "lubrication.tool_side.mu",
        .kind = ValueKind::ratio,
        .required = true,
        .hard = {0, 0.5},
        .usual = {0.03, 0.25},
        .usual_note = friction_note,
        .about = "Coulomb friction between sheet and tool",
        .access = direct([](auto& c) { return &c.press.tool_friction; })},
       {.path = "lubrication.tool_side.lubricant",
        .kind = ValueKind::word,
        .words = lubricants,
        .about =
            "what is between sheet and tool, printed with the results; friction alone enters, a film has no "
            "thickness and no stiffness",
        .access = direct([](auto& c) { return &c.lubricant; })},
       {.path = "step[].name",
        .kind = ValueKind::text,
        .about = "of the step; inserts say by it how long they stand",
        .access = in_list(&Case::steps, &PressStep::name)},
       {.path = "step[].pressure",
        .kind = ValueKind::schedule,
        .required = true,
        .unit = "MPa",
        .hard = {0, 400},
        .about = "pairs of share of the pressing and pressure, or the peak alone for a straight rise; the "
                 "last is the peak, which is held and then released; the next step begins from there",
        .access = schedule()},
       {.path = "diaphragm.smallest_radius",
        .kind = ValueKind::length,
        .unit = "mm",
        .hard = {0, 1000},
        .usual = {0, 50},
        .about =
            "hollows of the sheet down to this radius get the full pressure, those of half of it none; 0 mm: "
            "the fluid reaches everywhere",
        .access = direct([](auto& c) { return &c.smallest_pad_radius; })},
       {.path = "symmetry.planes",
        .kind = ValueKind::words,
        .words = {"x", "y"},
        .about = "\"x\": only the half x >= 0 is computed; \"y\": only y >= 0",
        .access = symmetry_planes()},
       {.path = "limits.thinning",
        .kind = ValueKind::ratio,
        .unit = "%",
        .hard = {0, 0.9, true},
        .usual = {0.02, 0.5},
        .about = "largest thinning allowed; not judged where it is not set",
        .access = optional_limit(&Limits::thinning)},
       {.path = "limits.forming_limit",
        .kind = ValueKind::word,
        .words = {"none", "estimate", "measured", "computed", "lower"},
        .about =
            "forming-limit curve: measured or computed, as [sheet.forming_limit] says, and the default where "
            "that stands; estimate from thickness and hardening, made for low-carbon steel and the default "
            "there; lower of estimate and computed curve, the default for other metals; or none",
        .access = as_word([](auto& c) { return &c.limits.forming_limit; },
                          {"none", "estimate", "measured", "computed", "lower"})}});
}

void add_effort_keys(Schema& s) {
  s.keys.insert(s.keys.end(),
                {{.path = "effort.detail",
                  .kind = ValueKind::word,
                  .words = {"quick", "trial", "careful"},
                  .about = "presets: 6, 10 or 14 elements over a 90 degree bend and 7, 15 or 23 layers",
                  .access = {[](const Case& c, int) -> std::optional<Value> {
                               return std::array<std::string, 3>{"quick", "trial", "careful"}.at(
                                   static_cast<size_t>(c.detail));
                             },
                             [](Case& c, int, const Value& value) {
                               const auto& word = std::get<std::string>(value);
                               apply_detail(c, word == "quick"   ? Detail::quick
                                               : word == "trial" ? Detail::trial
                                                                 : Detail::careful);
                             }}},
                 {.path = "effort.threads",
                  .kind = ValueKind::count,
                  .hard = {0, 1024},
                  .about = "threads to compute with; 0: all cores. The answer does not depend on it",
                  .access = direct([](auto& c) { return &c.settings.threads; })},
                 {.path = "outputs.pictures",
                  .kind = ValueKind::flag,
                  .about = "draw PNG pictures",
                  .access = direct([](auto& c) { return &c.outputs.pictures; })},
                 {.path = "outputs.series",
                  .kind = ValueKind::flag,
                  .about = "write the states of the pressing, to be played in a viewer",
                  .access = direct([](auto& c) { return &c.outputs.series; })}});
}

void add_mesh_method_keys(Schema& s) {
  s.keys.insert(s.keys.end(), {{.path = "method.elements_per_bend",
                                .kind = ValueKind::number,
                                .hard = {1, 100},
                                .usual = {3, 30},
                                .about = "elements over a 90 degree bend of the radius that the sheet meets",
                                .access = direct([](auto& c) { return &c.blank_mesh.elements_per_bend; })},
                               {.path = "method.coarsest",
                                .kind = ValueKind::length,
                                .unit = "mm",
                                .hard = {0, 1000},
                                .about = "largest edge length; 0 mm: a twelfth of the blank's smaller extent",
                                .access = direct([](auto& c) { return &c.blank_mesh.coarsest; })},
                               {.path = "method.uniform",
                                .kind = ValueKind::length,
                                .unit = "mm",
                                .hard = {0, 1000},
                                .about = "one edge length everywhere; 0 mm: graded from the tool",
                                .access = direct([](auto& c) { return &c.blank_mesh.uniform; })},
                               {.path = "method.growth",
                                .kind = ValueKind::ratio,
                                .hard = {0.01, 2},
                                .usual = {0.05, 0.6},
                                .about = "growth of the edge length per length away from the tool's radii",
                                .access = direct([](auto& c) { return &c.blank_mesh.growth; })},
                               {.path = "method.facet_angle",
                                .kind = ValueKind::angle,
                                .unit = "deg",
                                .hard = {0.5 * degree, 45 * degree},
                                .usual = {0.5 * degree, 10 * degree},
                                .usual_note = "past 10 deg the facets of the tool may show in the strains",
                                .about = "largest turn of the normal across one facet of the tool",
                                .access = direct([](auto& c) { return &c.tool.facet_angle; })}});
}

void add_solver_method_keys(Schema& s) {
  s.keys.insert(
      s.keys.end(),
      {{.path = "method.layers",
        .kind = ValueKind::count,
        .hard = {2, 51},
        .usual = {7, 25},
        .usual_note = "springback needs 7 layers at least",
        .about = "Gauss points through the thickness",
        .access = direct([](auto& c) { return &c.settings.layers; })},
       {.path = "method.normal_stress",
        .kind = ValueKind::flag,
        .about = "let the pressure through the thickness shift yield",
        .access = direct([](auto& c) { return &c.press.normal_stress; })},
       {.path = "method.edges_loaded",
        .kind = ValueKind::flag,
        .about = "the pad presses on the cut edges too",
        .access = direct([](auto& c) { return &c.press.edges_loaded; })},
       {.path = "method.penetration_share",
        .kind = ValueKind::ratio,
        .hard = {1e-6, 0.05},
        .usual = {1e-5, 0.005},
        .about = "of the thickness: penetration where contact carries the fluid pressure",
        .access = direct([](auto& c) { return &c.settings.penetration_share; })},
       {.path = "method.slip_share",
        .kind = ValueKind::ratio,
        .hard = {1e-6, 0.1},
        .usual = {1e-5, 0.02},
        .about = "of the thickness: elastic slip before full friction",
        .access = direct([](auto& c) { return &c.settings.slip_share; })},
       {.path = "method.pressure_growth",
        .kind = ValueKind::ratio,
        .hard = {0.01, 2},
        .usual = {0.02, 0.5},
        .about = "largest growth of the pressure in one increment",
        .access = direct([](auto& c) { return &c.settings.pressure_growth; })},
       {.path = "method.largest_motion",
        .kind = ValueKind::length,
        .unit = "mm",
        .hard = {0.001, 100},
        .usual = {0.05, 10},
        .about = "largest motion of a node in one increment",
        .access = direct([](auto& c) { return &c.settings.largest_motion; })},
       {.path = "method.tolerance",
        .kind = ValueKind::ratio,
        .hard = {1e-10, 0.1},
        .usual = {1e-8, 0.05},
        .about = "out-of-balance force over the pressure force; a node's own may be 80 times as much",
        .access = direct([](auto& c) { return &c.settings.tolerance; })},
       {.path = "method.most_iterations",
        .kind = ValueKind::count,
        .hard = {3, 1000},
        .about = "Newton iterations before an increment is cut",
        .access = direct([](auto& c) { return &c.settings.most_iterations; })},
       {.path = "method.enriched_membrane",
        .kind = ValueKind::flag,
        .about = "mid-side bows in the membrane",
        .access = direct([](auto& c) { return &c.settings.enriched_membrane; })},
       {.path = "method.viscosity",
        .kind = ValueKind::pressure_per_length,
        .unit = "MPa/mm",
        .hard = {0, 1},
        .usual = {0, 0},
        .usual_note = "viscosity is a crutch: it changes springback; look at its share of the work",
        .about = "pressure that resists motion, per motion in an increment; off unless a sheet snaps",
        .access = direct([](auto& c) { return &c.settings.viscosity; })}});
}

}  // namespace

void add_run_keys(Schema& s) {
  add_zone_keys(s);
  add_press_keys(s);
  add_edge_and_bend_keys(s);
  add_trim_keys(s);
  add_effort_keys(s);
  add_mesh_method_keys(s);
  add_solver_method_keys(s);
}

}  // namespace halftool::io
