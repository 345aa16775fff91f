// The one place that knows the keys of summary.json: a table of key, unit, meaning and value, from which both
// the file and its documentation are made.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <numbers>

#include "io/results/summary.hpp"

namespace halftool::io {
namespace {

using Json = nlohmann::ordered_json;

struct Key {
  const char* path;  ///< dots open objects
  const char* unit;
  const char* meaning;
  Json (*value)(const Summary& s);
};

double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}
double joules(double newton_millimetres) {
  return newton_millimetres / 1000;
}
Json place(const Eigen::Vector3d& at) {
  return Json::array({at.x(), at.y(), at.z()});
}

Json flange_list(const Summary& s) {
  Json list = Json::array();
  for (const FlangeAngle& flange : s.flanges)
    list.push_back({{"name", flange.name},
                    {"formed_deg", degrees(flange.formed)},
                    {"released_deg", degrees(flange.released)},
                    {"springback_deg", degrees(flange.released - flange.formed)}});
  return list;
}

Json comparison_list(const Summary& s) {
  Json list = Json::array();
  for (const Comparison& c : s.comparisons)
    list.push_back({{"what", c.what},
                    {"unit", c.unit},
                    {"computed", c.computed},
                    {"estimated", c.estimated},
                    {"low", c.low},
                    {"high", c.high},
                    {"difference", c.difference()},
                    {"not_reached", c.not_reached},
                    {"apart", c.is_apart()}});
  return list;
}

Json constant_list(const Summary& s) {
  Json list = Json::array();
  for (const ConstantOrigin& constant : s.sheet_constants)
    list.push_back({{"key", constant.key},
                    {"value", constant.value},
                    {"grade", constant.grade},
                    {"source", constant.source},
                    {"note", constant.note}});
  return list;
}

Json phase_times(const Summary& s) {
  Json object = Json::object();
  for (const PhaseTime& phase : s.phases) object[phase.name] = phase.seconds;
  return object;
}

Json edge_wave_object(const Summary& s, solver::EdgeWaves solver::EdgeWaveHistory::*member) {
  if (!s.edge_waves) return {};
  const solver::EdgeWaves& waves = (*s.edge_waves).*member;
  return {{"count", waves.count},      {"height_mm", waves.height},
          {"length_mm", waves.length}, {"bending_strain", waves.bending_strain},
          {"at_mm", place(waves.at)},  {"pressure_mpa", waves.pressure}};
}
Json edge_strain(const Summary& s, double solver::EdgeWaveHistory::*member) {
  return s.edge_waves ? Json((*s.edge_waves).*member) : Json();
}

Json wrinkling_value(const Summary& s, Json (*value)(const Wrinkling& w)) {
  return s.wrinkling ? value(*s.wrinkling) : Json();
}

Json fit_value(const Summary& s, double ReleaseFit::*member) {
  return s.fit ? Json((*s.fit).*member) : Json();
}

Json figure(const solver::Figure& f) {
  return {{"name", f.name}, {"value", f.value}, {"unit", f.unit}};
}

Json finding_object(const solver::Finding& f) {
  Json inputs = Json::array();
  for (const solver::Figure& input : f.inputs) inputs.push_back(figure(input));
  return {{"what", f.what},
          {"tripped", f.tripped},
          {"at_mm", place(f.at)},
          {"found", figure(f.found)},
          {"limit", f.limit.name.empty() ? Json() : figure(f.limit)},
          {"formula", f.formula},
          {"inputs", inputs},
          {"caution", f.caution}};
}

Json trim_list(const Summary& s) {
  Json list = Json::array();
  for (const TrimRecord& trim : s.trims)
    list.push_back(
        {{"after_step", trim.after_step}, {"kept_share", trim.kept_share}, {"motion_mm", trim.motion}});
  return list;
}

Json screen_object(const ScreenedTool& tool, const solver::Screen& screen) {
  Json findings = Json::array();
  for (const solver::Finding& finding : screen.findings) findings.push_back(finding_object(finding));
  return {{"from_step", tool.from_step}, {"pressure_mpa", tool.pressure},
          {"name", screen.name},         {"rule", screen.rule},
          {"tripped", screen.tripped()}, {"not_run", screen.not_run},
          {"findings", findings},        {"more", screen.more}};
}

Json screen_list(const Summary& s) {
  Json list = Json::array();
  for (const ScreenedTool& tool : s.screened_tools)
    for (const solver::Screen& screen : tool.screens) list.push_back(screen_object(tool, screen));
  return list;
}

using S = const Summary&;
const Key keys_of_job[] = {
    {"format", "", "version of this list of keys; raised when a key changes its meaning or goes",
     [](S) -> Json { return 1; }},
    {"halftool_version", "", "version of the program", [](S s) -> Json { return s.version; }},
    {"case.title", "", "title of the case", [](S s) -> Json { return s.case_title; }},
    {"case.file", "", "case file", [](S s) -> Json { return s.case_file; }},
    {"outcome", "", "`done`, `limit passed`, `not completed` or `stopped`",
     [](S s) -> Json { return outcome_word(s.outcome); }},
    {"reason", "", "why the job did not complete or which limit was passed; empty when done",
     [](S s) -> Json { return s.reason; }},
    {"credential", "", "where the numbers behind the result come from",
     [](S s) -> Json { return s.credential; }},
    {"sheet.material", "", "name of the material", [](S s) -> Json { return s.material; }},
    {"sheet.hardening", "", "kind of hardening and unloading, and what springback has from them",
     [](S s) -> Json { return s.hardening; }},
    {"sheet.grade", "",
     "worst grade of its constants: `measured certificate`, `measured publication`, "
     "`handbook typical`, `user` (given in the case beside a sheet of the stock) or `guessed`",
     [](S s) -> Json { return s.sheet_grade; }},
    {"sheet.source", "", "where its constants come from", [](S s) -> Json { return s.sheet_source; }},
    {"sheet.stock", "", "name of the sheet in the stock; empty: the case gives all constants",
     [](S s) -> Json { return s.sheet_stock; }},
    {"sheet.constants", "",
     "list of the constants of a sheet of the stock: `key`, `value`, `grade`, `source`, `note`",
     constant_list},
    {"sheet.rate_factor", "-",
     "what the flow stress is multiplied by for the strain rate of the press, as the case gives it; 1: none",
     [](S s) -> Json { return s.rate_factor; }},
    {"sheet.thickness_mm", "mm", "thickness of the flat blank",
     [](S s) -> Json { return s.initial_thickness; }},
    {"pressure.peak_mpa", "MPa", "pressure asked for", [](S s) -> Json { return s.peak_pressure; }},
    {"pressure.reached_mpa", "MPa", "pressure reached", [](S s) -> Json { return s.reached_pressure; }},
};
const Key keys_of_part[] = {
    {"thinning.worst", "-", "largest (t0 - t)/t0", [](S s) -> Json { return s.thinning.value; }},
    {"thinning.at_mm", "mm", "place of it, [x, y, z]", [](S s) -> Json { return place(s.thinning.at); }},
    {"thickening.worst", "-", "largest (t - t0)/t0", [](S s) -> Json { return s.thickening.value; }},
    {"thickening.at_mm", "mm", "place of it", [](S s) -> Json { return place(s.thickening.at); }},
    {"strain.major_mid", "-", "largest true strain of the mid-surface",
     [](S s) -> Json { return s.major_strain.value; }},
    {"strain.major_mid_at_mm", "mm", "place of it", [](S s) -> Json { return place(s.major_strain.at); }},
    {"strain.major_face", "-", "largest true strain of either face",
     [](S s) -> Json { return s.face_strain.value; }},
    {"strain.major_face_at_mm", "mm", "place of it", [](S s) -> Json { return place(s.face_strain.at); }},
    {"strain.plastic", "-", "largest equivalent plastic strain",
     [](S s) -> Json { return s.plastic_strain.value; }},
    {"strain.plastic_at_mm", "mm", "place of it", [](S s) -> Json { return place(s.plastic_strain.at); }},
    {"limit_share.worst", "-",
     "largest major strain over the forming limit on the same straight path; above 1 the limit is passed",
     [](S s) -> Json { return s.limit_share.value; }},
    {"limit_share.at_mm", "mm", "place of it", [](S s) -> Json { return place(s.limit_share.at); }},
    {"limit_share.path_worst", "-",
     "the same along the path that the strain took: equivalent strain used, over that of the forming limit "
     "in the direction of the last strain, largest of all states (Stoughton and Yoon 2012); above 1 the "
     "limit "
     "is passed",
     [](S s) -> Json { return s.path_share.value; }},
    {"limit_share.path_at_mm", "mm", "place of it", [](S s) -> Json { return place(s.path_share.at); }},
    {"limit_share.not_judged", "-",
     "share of the area that is stretched by a major strain of 0.02 or more on paths beside the points "
     "of the forming limit",
     [](S s) -> Json { return s.limit_not_judged; }},
    {"limit_share.not_judged_major", "-", "largest major true strain there",
     [](S s) -> Json { return s.limit_not_judged_major.value; }},
    {"limit_share.not_judged_at_mm", "mm", "place of it",
     [](S s) -> Json { return place(s.limit_not_judged_major.at); }},
    {"limit_share.limit", "", "the forming limit and its source", [](S s) -> Json { return s.limit_name; }},
    {"share.worst", "-",
     "largest share of all limits that are judged (forming limit, thinning, cut edges, bends); null: none",
     [](S s) -> Json { return s.governing_share.value; }},
    {"share.kind", "", "of which limit: `splitting`, `thinning`, `edge` or `bend`; empty: none is judged",
     [](S s) -> Json { return s.governing_kind; }},
    {"share.face", "", "`both`, `pad face` or `tool face`", [](S s) -> Json { return s.governing_face; }},
    {"share.at_mm", "mm", "place of it", [](S s) -> Json { return place(s.governing_share.at); }},
    {"wrinkling.tendency", "-",
     "share of the in-plane stress that compresses, on a straight path to the strain of the formed part "
     "(Hill "
     "1948, mean r-value): 0 up to uniaxial tension, 0.5 in pure shear, 1 in uniaxial compression. Counted "
     "where "
     "the minor strain lies 0.02 or more beyond that of uniaxial tension. A tendency and no limit (common "
     "practice, no source); waves that were found stand in `edge_waves`",
     [](S s) { return wrinkling_value(s, [](const Wrinkling& w) -> Json { return w.worst.value; }); }},
    {"wrinkling.at_mm", "mm", "place of it",
     [](S s) { return wrinkling_value(s, [](const Wrinkling& w) -> Json { return place(w.worst.at); }); }},
    {"wrinkling.loose", "-", "the same where the sheet stands off the tool by 5 % of its thickness or more",
     [](S s) { return wrinkling_value(s, [](const Wrinkling& w) -> Json { return w.loose.value; }); }},
    {"wrinkling.loose_at_mm", "mm", "place of it",
     [](S s) { return wrinkling_value(s, [](const Wrinkling& w) -> Json { return place(w.loose.at); }); }},
    {"wrinkling.loose_stress_mpa", "MPa",
     "least minor stress of the mid-surface there, less the stress across the sheet; 0: none compresses",
     [](S s) { return wrinkling_value(s, [](const Wrinkling& w) -> Json { return w.loose_stress; }); }},
    {"wrinkling.area", "-", "share of the part's area with such a tendency",
     [](S s) { return wrinkling_value(s, [](const Wrinkling& w) -> Json { return w.area; }); }},
    {"edge_waves.highest", "mm",
     "waves along the free edges of flanges, of the computed part, when one stood highest: `count`, and of "
     "the "
     "highest `height_mm` (crest over the line between its valleys), `length_mm` (twice its width at half "
     "the height), "
     "`bending_strain` (of sine waves of that size), `at_mm`, `pressure_mpa`. A wave rises by 5 % of the "
     "thickness or more; count 0: there were none",
     [](S s) { return edge_wave_object(s, &solver::EdgeWaveHistory::highest); }},
    {"edge_waves.left", "mm",
     "the same in the last state: the waves that the full pressure has not pressed flat, if it was reached",
     [](S s) { return edge_wave_object(s, &solver::EdgeWaveHistory::left); }},
    {"edge_waves.least_strain", "-",
     "least true strain along the edge that had the highest wave, over five thicknesses, in the last state",
     [](S s) { return edge_strain(s, &solver::EdgeWaveHistory::least_strain); }},
    {"edge_waves.largest_strain", "-", "the largest such strain",
     [](S s) { return edge_strain(s, &solver::EdgeWaveHistory::largest_strain); }},
    {"flanges", "deg",
     "list of `name`, `formed_deg`, `released_deg`, `springback_deg` (released minus formed) of the fold "
     "angle; below zero the flange opens",
     flange_list},
    {"estimates", "",
     "list of values that a hand formula gives as well (`halftool reckon`): `what`, `unit`, `computed`, "
     "`estimated`, `low` and `high` of the estimate's band (null: it has none), `difference` (computed over "
     "estimated, less 1), `not_reached` (`computed` was reached without it, so that it lies above), `apart` "
     "(more "
     "than 0.3 either way)",
     comparison_list},
    {"release_fit.rms_mm", "mm",
     "distance of the released part from the formed one after the best fit, root mean square",
     [](S s) { return fit_value(s, &ReleaseFit::rms); }},
    {"release_fit.largest_mm", "mm", "the largest such distance",
     [](S s) { return fit_value(s, &ReleaseFit::largest); }},
    {"release_fit.largest_at_mm", "mm", "place of it on the formed part",
     [](S s) { return s.fit ? place(s.fit->largest_at) : Json(); }},
    {"trims", "",
     "list of the trims: `after_step` (empty: the last), `kept_share` of the sheet's area, `motion_mm` of "
     "the "
     "free part when it was cut, after the best fit (null between two steps)",
     trim_list},
};
const Key keys_of_edges[] = {
    {"edge.limit", "", "how the blank's edges are cut and what limits them; `not judged` without a limit",
     [](S s) -> Json { return s.edge_limit; }},
    {"edge.strain", "-", "largest true strain along a cut edge, mid-surface; null where it was not reached",
     [](S s) -> Json { return s.edge_strain.value; }},
    {"edge.at_mm", "mm", "place of it", [](S s) -> Json { return place(s.edge_strain.at); }},
    {"edge.share", "-", "the same over the limit; null: not judged",
     [](S s) -> Json { return s.edge_share.value; }},
    {"edge.share_of", "", "the limit of which edge that is, where edges have limits of their own; else empty",
     [](S s) -> Json { return s.edge_share_of; }},
    {"bend.strain_beside_edges", "-",
     "the same within three thicknesses of a cut edge that crosses the bend, which the limit does not judge",
     [](S s) -> Json { return s.bend_edge_strain.value; }},
    {"bend.limit", "", "what limits the outer fibre of bends; `not judged` without a limit",
     [](S s) -> Json { return s.bend_limit; }},
    {"bend.strain", "-",
     "largest major true strain of a face of which a third or more is bending, mean over one thickness",
     [](S s) -> Json { return s.bend_strain.value; }},
    {"bend.at_mm", "mm", "place of it", [](S s) -> Json { return place(s.bend_strain.at); }},
    {"bend.share", "-", "the same over the limit; null: not judged",
     [](S s) -> Json { return s.bend_share.value; }},
};
const Key keys_of_balance[] = {
    {"balance.fluid_force_n", "N", "force of the fluid along the press axis at the end of the dwell",
     [](S s) -> Json { return s.record.pressure_force_z; }},
    {"balance.tool_force_n", "N", "force of the tool on the sheet along the press axis",
     [](S s) -> Json { return s.record.tool_force_z; }},
    {"balance.held_force_n", "N", "force of clamped edges on the sheet along the press axis",
     [](S s) -> Json { return s.record.held_force_z; }},
    {"balance.imbalance", "-", "sum of the three over the force of the fluid",
     [](S s) -> Json { return force_imbalance(s.record); }},
    {"balance.out_of_balance", "-", "largest component of the residual over the norm of the pressure force",
     [](S s) -> Json { return s.record.out_of_balance; }},
    {"balance.support_reaction_n", "N", "largest reaction of the six supports after release",
     [](S s) -> Json { return s.record.support_reaction; }},
    {"contact.largest_penetration_mm", "mm", "deepest penetration of sheet into tool at full pressure",
     [](S s) -> Json { return s.record.largest_penetration; }},
    {"contact.tool_in_sheet_mm", "mm",
     "deepest that a corner or sharp edge of the tool stands past the sheet's tool face, triangles taken as "
     "flat",
     [](S s) -> Json { return s.tool_in_sheet.value; }},
    {"contact.tool_in_sheet_at_mm", "mm", "place of it",
     [](S s) -> Json { return place(s.tool_in_sheet.at); }},
    {"contact.folded_triangles", "-",
     "triangles of the formed sheet that pass through others or through a plane of symmetry: contact of the "
     "sheet with itself is not computed",
     [](S s) -> Json { return s.folded.triangles; }},
    {"contact.folded_at_mm", "mm", "place of one of them",
     [](S s) -> Json { return s.folded.triangles > 0 ? place(s.folded.at) : Json(nullptr); }},
    {"contact.penetration_over_thickness", "-", "the same over the thickness of the blank",
     [](S s) -> Json { return penetration_share(s); }},
    {"work.fluid_j", "J", "work of the fluid up to the end of the dwell",
     [](S s) -> Json { return joules(s.record.external_work); }},
    {"work.plastic_j", "J", "plastic work", [](S s) -> Json { return joules(s.record.plastic_work); }},
    {"work.friction_j", "J", "work of friction", [](S s) -> Json { return joules(s.record.friction_work); }},
    {"work.regularisation_j", "J", "work of viscosity or any other crutch",
     [](S s) -> Json { return joules(s.record.regularisation_work); }},
    {"work.regularisation_share", "-", "the same over the work of the fluid",
     [](S s) -> Json { return regularisation_share(s.record); }},
};
const Key keys_of_run[] = {
    {"run.increments", "", "accepted increments to full pressure",
     [](S s) -> Json { return s.record.increments; }},
    {"run.cuts", "", "increments that were rejected and cut", [](S s) -> Json { return s.record.cuts; }},
    {"run.iterations", "", "Newton iterations to full pressure, cut attempts included",
     [](S s) -> Json { return s.record.iterations; }},
    {"run.iterations_dwell", "", "Newton iterations of the dwell",
     [](S s) -> Json { return s.record.iterations_dwell; }},
    {"run.iterations_release", "", "Newton iterations of the release",
     [](S s) -> Json { return s.record.iterations_release; }},
    {"run.factorisations", "", "factorisations of the tangent",
     [](S s) -> Json { return s.record.factorisations; }},
    {"run.indefinite_factorisations", "", "of these, with a tangent that was not positive definite",
     [](S s) -> Json { return s.record.indefinite_factorisations; }},
    {"run.snaps", "", "snaps of the sheet from one shape to another, damped",
     [](S s) -> Json { return s.record.snaps; }},
    {"run.line_search_evaluations", "", "residuals evaluated by the line search",
     [](S s) -> Json { return s.record.line_search_evaluations; }},
    {"time.total_s", "s", "wall time of all phases", [](S s) -> Json { return total_seconds(s); }},
    {"time.phases_s", "s", "wall time of each phase by its name", phase_times},
    {"time.solver.factor_s", "s", "in factorisation", [](S s) -> Json { return s.record.seconds_factor; }},
    {"time.solver.solve_s", "s", "in forward and backward substitution",
     [](S s) -> Json { return s.record.seconds_solve; }},
    {"time.solver.element_s", "s", "in element work", [](S s) -> Json { return s.record.seconds_element; }},
    {"time.solver.other_s", "s", "in the rest of the solver",
     [](S s) -> Json { return s.record.seconds_other; }},
    {"time.solver.overhead_share", "-", "share of solver time outside factorisation, solve and element work",
     [](S s) -> Json { return overhead_share(s.record); }},
    {"memory.peak_mb", "MB", "peak resident memory", [](S s) -> Json { return s.peak_memory; }},
    {"mesh.nodes", "", "nodes of the blank", [](S s) -> Json { return s.mesh.nodes; }},
    {"mesh.triangles", "", "triangles of the blank", [](S s) -> Json { return s.mesh.triangles; }},
    {"mesh.unknowns", "", "equations", [](S s) -> Json { return s.mesh.unknowns; }},
    {"mesh.tool_facets", "", "facets of the tool half", [](S s) -> Json { return s.mesh.tool_facets; }},
    {"mesh.smallest_angle_deg", "deg", "smallest angle of a triangle of the blank",
     [](S s) -> Json { return degrees(s.mesh.smallest_angle); }},
    {"mesh.finest_mm", "mm", "shortest edge of the blank's mesh", [](S s) -> Json { return s.mesh.finest; }},
    {"mesh.coarsest_mm", "mm", "longest edge of the blank's mesh",
     [](S s) -> Json { return s.mesh.coarsest; }},
    {"tool.material", "", "what the tool half is made of, as the case says",
     [](S s) -> Json { return s.tool_material; }},
    {"tool.allowed_stress_mpa", "MPa", "stress that the tool half may bear, as the case says",
     [](S s) { return s.tool_allowed_stress ? Json(*s.tool_allowed_stress) : Json(); }},
    {"screens", "",
     "list of quick estimates of the tool half against sheet and peak pressure, of each tool half where the "
     "steps have several: `from_step` (the step from which it stands; empty: there is one), `pressure_mpa` "
     "(the greatest that it meets), `name`, `rule`, `tripped`, "
     "`not_run` (why not; empty: it ran), `findings` (each `what`, `tripped`, `at_mm`, `found` and `limit` "
     "with "
     "`name`, `value`, `unit`, `formula`, `inputs`, `caution`; a `found` value of null is infinite) and "
     "`more` "
     "(findings left out). None of them clears anything",
     screen_list},
    {"warnings", "", "list of what the engineer should know about this result",
     [](S s) -> Json { return s.warnings; }},
    {"cautions", "", "list of cautions on the use of the result and of the press",
     [](S s) -> Json { return s.cautions; }},
};

template <class Visit>
void for_each_key(Visit visit) {
  for (const Key& key : keys_of_job) visit(key);
  for (const Key& key : keys_of_part) visit(key);
  for (const Key& key : keys_of_edges) visit(key);
  for (const Key& key : keys_of_balance) visit(key);
  for (const Key& key : keys_of_run) visit(key);
}

Json to_json(const Summary& summary) {
  Json root = Json::object();
  for_each_key([&](const Key& key) {
    Json* node = &root;
    std::string path = key.path;
    for (std::size_t dot = path.find('.'); dot != std::string::npos; dot = path.find('.')) {
      node = &(*node)[path.substr(0, dot)];
      path.erase(0, dot + 1);
    }
    (*node)[path] = key.value(summary);
  });
  return root;
}

}  // namespace

void write_summary(const std::filesystem::path& path, const Summary& summary) {
  // Text that is not UTF-8 (a file name, say) is replaced rather than refused: the result must not be lost.
  write_file(path, to_json(summary).dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

std::string summary_keys_markdown() {
  std::string text = "| key | unit | meaning |\n|---|---|---|\n";
  for_each_key(
      [&](const Key& key) { text += fmt::format("| `{}` | {} | {} |\n", key.path, key.unit, key.meaning); });
  return text;
}

}  // namespace halftool::io
