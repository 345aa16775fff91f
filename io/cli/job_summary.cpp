#include "io/cli/job_summary.hpp"

#include <fmt/format.h>
#include <sys/resource.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "io/cli/comparing.hpp"
#include "io/cli/extremes.hpp"
#include "io/cli/job_steps.hpp"
#include "io/cli/setup_checks.hpp"
#include "io/cli/sheet_facts.hpp"
#include "io/cli/tool_screening.hpp"
#include "io/report/cautions.hpp"
#include "io/results/nodal_average.hpp"
#include "mesh/folded_sheet.hpp"
#include "mesh/tool_in_sheet.hpp"
#include "solver/assessment/bend_limit.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "solver/springback/flange.hpp"

namespace halftool::io {
namespace {

/// Where the metal stretches noticeably on paths beside the points of the limit.
void add_not_judged(Summary& summary, const solver::SheetFields& fields) {
  constexpr double noticeable = 0.02;  // major strain; our judgement
  const Eigen::VectorXd areas = triangle_areas(fields.triangles, fields.positions);
  double beside = 0;
  Eigen::VectorXd major = Eigen::VectorXd::Zero(areas.size());
  for (Eigen::Index t = 0; t < areas.size(); ++t) {
    if (!std::isnan(fields.limit_share(t)) || fields.strain_mid(t, 0) < noticeable) continue;
    beside += areas(t);
    major(t) = fields.strain_mid(t, 0);
  }
  summary.limit_not_judged = beside / areas.sum();
  if (beside > 0) summary.limit_not_judged_major = largest(major, fields);
}

MeshCounts count_mesh(const mesh::Blank& blank, const mesh::ToolSurface& tool) {
  MeshCounts counts;
  counts.nodes = blank.mesh.n_nodes();
  counts.triangles = blank.mesh.n_triangles();
  counts.tool_facets = tool.mesh().n_triangles();
  counts.smallest_angle = mesh::smallest_angles(blank.mesh).minCoeff();
  Eigen::VectorXd length(blank.edges.n_edges());
  for (int e = 0; e < blank.edges.n_edges(); ++e)
    length(e) =
        (blank.mesh.nodes.row(blank.edges.nodes(e, 1)) - blank.mesh.nodes.row(blank.edges.nodes(e, 0)))
            .norm();
  counts.finest = length.minCoeff();
  counts.coarsest = length.maxCoeff();
  return counts;
}

std::string friction_words(const Case& job) {
  const auto with = [](double mu, const std::string& lubricant) {
    return fmt::format("{:.2f}{}", mu, lubricant == no_lubricant ? "" : " (" + lubricant + ")");
  };
  std::string words = with(job.press.tool_friction, job.lubricant);
  for (const FrictionZone& zone : job.friction_zones)
    words += fmt::format(", {} {}", with(zone.mu, zone.lubricant),
                         zone.name.empty() ? "in a zone" : "in " + zone.name);
  return words;
}

/// Screens of the tool half of each step, estimates over that of the last.
/// @param level  of the tool face of the flat blank [mm]
void add_tools(Summary& summary, const Case& job, const ToolSet& set, double level) {
  for (std::size_t i = 0; i < set.tools.size(); ++i) {
    const std::string from = set.tools.size() > 1 ? step_name(job, set.first_step_on(i)) : "";
    const ToolSurvey survey(job, set.tools[i], level);
    const double pressure = set.peak_on(job, i);
    summary.screened_tools.push_back({from, pressure, screen_tool(job, survey, pressure)});
    if (&set.tools[i] != &set.last()) continue;
    summary.inside_radii = inside_radii_of(job, survey, job.peak_pressure());
    summary.flange_estimates = flanges_of(job, survey, job.peak_pressure());
  }
}

/// The case without the zones of the lubrication that no triangle belongs to.
Case with_zones_met(const Case& job, const mesh::Blank& blank) {
  Case credited = job;
  credited.friction_zones.clear();
  const std::vector<int> zones = zones_of(job, blank);
  for (std::size_t i = 0; i < job.friction_zones.size(); ++i)
    if (std::count(zones.begin(), zones.end(), static_cast<int>(i)) > 0)
      credited.friction_zones.push_back(job.friction_zones[i]);
  return credited;
}

void pass_limit(Summary& summary, const std::string& reason) {
  summary.outcome = Outcome::limit_passed;
  summary.reason = summary.reason.empty() ? reason : summary.reason + "; " + reason;
}

/// Either share of the forming limit passes it: the larger one is what the governing share takes.
void judge_split(Summary& summary, const Case& job, const Extreme& share, const std::string& path) {
  if (job.limits.forming_limit == FormingLimit::none || !(share.value > 1)) return;
  pass_limit(
      summary,
      fmt::format("strain is {:.2f} of the {} forming limit {}, at ({:.1f}, {:.1f}, {:.1f}) mm", share.value,
                  limit_kind(job.limits.forming_limit), path, share.at.x(), share.at.y(), share.at.z()));
}

void judge(Summary& summary, const Case& job) {
  if (job.limits.thinning && summary.thinning.value > *job.limits.thinning)
    pass_limit(summary, fmt::format("thinning {:.1f} % is above the limit of {:.1f} %",
                                    100 * summary.thinning.value, 100 * *job.limits.thinning));
  judge_split(summary, job, summary.limit_share, "on a straight path");
  judge_split(summary, job, summary.path_share, "along the path that it took");
}

}  // namespace

std::string credential(const Case& job) {
  const std::string rate =
      job.material.strain_rate && job.material.strain_rate->press
          ? fmt::format(", flow stress times {:.3f} for strain rate", solver::rate_factor(job.material))
          : "";
  return fmt::format("sheet: {} ({}{}){}{} · friction {}, assumed as given · forming limit: {} · {} layers",
                     job.material.name, job.stock ? fmt::format("stock {}, ", job.stock->name) : "",
                     job.material.grade.empty() ? "grade not stated" : job.material.grade,
                     yield_words(job.material.yield), rate, friction_words(job), limit_credential(job),
                     job.settings.layers);
}

Summary start_summary(const Case& job, const mesh::Blank& blank, const ToolSet& set) {
  Summary summary;
  summary.version = HALFTOOL_VERSION;
  summary.case_title = job.title;
  summary.case_file = job.file.filename().string();
  summary.material = job.material.name;
  summary.hardening = hardening_words(job.material);
  summary.sheet_grade = job.material.grade;
  summary.rate_factor = solver::rate_factor(job.material);
  summary.sheet_source = job.material.source;
  if (job.stock) {
    summary.sheet_stock = job.stock->name;
    summary.sheet_constants = job.stock->origins;
    if (!job.stock->caution.empty())
      summary.warnings.push_back(
          fmt::format("sheet {} of the stock: {}", job.stock->name, job.stock->caution));
  }
  summary.initial_thickness = job.blank.thickness;
  summary.peak_pressure = job.peak_pressure();
  summary.mesh = count_mesh(blank, set.last());
  for (const CaseWarning& warning : job.warnings) summary.warnings.push_back(print_problem(warning));
  summary.tool_material = job.tool_material;
  summary.tool_allowed_stress = job.tool_allowed_stress;
  for (std::string& doubt : tool_doubts(job, set)) summary.warnings.push_back(std::move(doubt));
  add_tools(summary, job, set, blank.mesh.nodes(0, 2) - 0.5 * blank.thickness);
  summary.cautions = cautions();
  summary.credential = credential(with_zones_met(job, blank));
  if (job.limits.forming_limit != FormingLimit::none) summary.limit_name = limit_words(job);
  return summary;
}

void add_state(Summary& summary, const Case& job, const solver::SheetFields& fields) {
  const auto worst = [&](const Eigen::VectorXd& values) { return largest(values, fields); };
  summary.reached_pressure = std::max(summary.reached_pressure, fields.pressure);
  summary.thinning = worst(fields.thinning);
  summary.thickening = worst(-fields.thinning);
  summary.thickening.value = std::max(summary.thickening.value, 0.0);
  summary.major_strain = worst(fields.strain_mid.col(0));
  summary.face_strain = worst(fields.strain_outer.col(0).cwiseMax(fields.strain_inner.col(0)));
  summary.plastic_strain =
      worst(fields.plastic_mid.cwiseMax(fields.plastic_outer).cwiseMax(fields.plastic_inner));
  if (job.limits.forming_limit != FormingLimit::none) summary.limit_share = worst(fields.limit_share);
  if (fields.path_share.size() > 0) summary.path_share = worst(fields.path_share);
  if (job.limits.forming_limit == FormingLimit::measured ||
      job.limits.forming_limit == FormingLimit::computed)
    add_not_judged(summary, fields);
  judge(summary, job);
}

namespace {

void tell_passed(Summary& summary, const Extreme& share, const std::string& what) {
  const int decimals = share.value < 1.01 ? 4 : 2;  // a limit just passed is not 1.00 of it
  if (share.value > 1)
    pass_limit(summary, fmt::format("{} is {:.{}f} of its limit", what, share.value, decimals));
}

/// "0.2624 true strain, rim of a hole"
std::string edge_of_limit(const solver::EdgeStrain& edge, const solver::EdgeLimits& limits) {
  const char* const which = edge.kind == mesh::EdgeKind::hole      ? "rim of a hole"
                            : edge.kind == mesh::EdgeKind::trimmed ? "edge trimmed between steps"
                                                                   : "outline";
  return fmt::format("{:.4f} true strain, {}", *limits.of(edge.kind), which);
}

/// The share of a limit, and the limit passed where it is above 1.
Extreme judged(Summary& summary, const Extreme& strain, const std::optional<double>& limit,
               const std::string& what) {
  if (!limit || std::isnan(strain.value)) return {};
  Extreme share{std::max(strain.value, 0.0) / *limit, strain.at};
  tell_passed(summary, share, what);
  return share;
}

}  // namespace

void add_edges_and_bends(Summary& summary, const Case& job, const mesh::Blank& blank,
                         solver::SheetFields& fields) {
  const auto edges = solver::edge_strains(blank, fields);
  const CutLimits limits = edge_limits(job);
  summary.edge_limit = limits.words;
  if (limits.of.any()) fields.edge_share = solver::edge_shares(edges, fields.triangles.rows(), limits.of);
  for (const auto& edge : edges) {
    if (!(edge.strain <= summary.edge_strain.value)) summary.edge_strain = {edge.strain, edge.at};
    const double share = solver::edge_share(edge, limits.of);
    if (std::isnan(share) || share <= summary.edge_share.value) continue;
    summary.edge_share = {share, edge.at};
    summary.edge_share_of = limits.differ() ? edge_of_limit(edge, limits.of) : "";
  }
  tell_passed(summary, summary.edge_share, "strain along a cut edge");

  compare_edges(summary, summary.flange_estimates, edges, fields.thinning);

  const solver::BentFaces bent = solver::bent_faces(fields, edges);
  fields.bent_strain = bent.judged;
  if (!summary.flange_estimates.empty()) compare_bends(summary, summary.flange_estimates, fields);
  const auto worst = [&](const Eigen::MatrixX2d& faces, Extreme& extreme) {
    const solver::BentFibre bend = solver::worst_bend(faces);
    if (bend.triangle >= 0) extreme = {bend.strain, centre_of(fields, bend.triangle)};
  };
  worst(bent.judged, summary.bend_strain);
  worst(bent.beside_edges, summary.bend_edge_strain);
  const auto [bend_strain, bend_words] = bend_limit(job);
  summary.bend_limit = bend_words;
  summary.bend_share =
      judged(summary, summary.bend_strain, bend_strain, "strain of the outer fibre of a bend");
}

void add_tool_in_sheet(Summary& summary, const mesh::ToolSurface& tool, const solver::SheetFields& fields) {
  const mesh::ToolInSheet found =
      mesh::deepest_in_sheet(tool, {fields.positions, fields.triangles}, fields.thickness);
  summary.tool_in_sheet = {found.depth, found.at};
}

void add_folds(Summary& summary, const Case& job, const solver::SheetFields& fields) {
  constexpr double let_pass = 0.05;  // of the thickness: the plane of symmetry is held that well and better
  summary.folded =
      mesh::find_folds({fields.positions, fields.triangles}, let_pass * summary.initial_thickness,
                       job.blank.symmetric_x, job.blank.symmetric_y);
}

void add_springback(Summary& summary, const mesh::Blank& blank, const solver::SheetState& formed,
                    const solver::SheetState& released, const solver::Fit& fit) {
  const mesh::Points& before = formed.place.positions;
  const mesh::Points& after = fit.positions;
  const solver::Regions regions = solver::find_flanges(blank, before);
  for (const solver::Flange& flange : regions.flanges) {
    summary.flanges.push_back({flange.name, solver::fold_angle(blank, before, regions.web, flange.triangles),
                               solver::fold_angle(blank, after, regions.web, flange.triangles)});
    compare_springback(summary, summary.flange_estimates, flange, summary.flanges.back());
  }
  if (summary.flanges.empty() && !blank.rim_held) {
    const auto turn_formed = solver::wrapped_turn(formed);
    const auto turn_released = solver::wrapped_turn(released);
    if (turn_formed && turn_released)
      summary.flanges.push_back({"whole turn of the sheet", *turn_formed, *turn_released});
  }
  summary.fit = ReleaseFit{fit.rms, fit.largest, fit.largest_at};
}

void add_doubts(Summary& summary, const solver::SheetMaterial& material) {
  constexpr double most_imbalance = 1e-3;
  constexpr double most_penetration = 5e-3;
  constexpr double most_regularisation = 0.02;
  if (std::abs(force_imbalance(summary.record)) > most_imbalance)
    summary.warnings.push_back(
        fmt::format("fluid and tool are out of balance by {:.2f} %: do not trust the run",
                    100 * force_imbalance(summary.record)));
  if (penetration_share(summary) > most_penetration)
    summary.warnings.push_back(
        fmt::format("the sheet stands {:.2f} % of its thickness inside the tool in places",
                    100 * penetration_share(summary)));
  constexpr double most_in_sheet = 0.05;  // of the thickness
  if (summary.tool_in_sheet.value > most_in_sheet * summary.initial_thickness) {
    const Eigen::Vector3d& at = summary.tool_in_sheet.at;
    summary.warnings.push_back(
        fmt::format("an edge or corner of the tool stands {:.3f} mm inside the sheet at ({:.1f}, {:.1f}, "
                    "{:.1f}) mm, between the "
                    "places at which contact is computed: round it, or mesh the blank finer there",
                    summary.tool_in_sheet.value, at.x(), at.y(), at.z()));
  }
  if (summary.folded.triangles > 0) {
    const Eigen::Vector3d& at = summary.folded.at;
    summary.warnings.push_back(fmt::format(
        "the sheet folds over and passes through itself ({} triangles, one at ({:.1f}, {:.1f}, "
        "{:.1f}) mm): contact of the sheet with itself is not computed, so trust nothing near the "
        "fold; more friction at the rim, a draw ring, another outline or a shallower draw avoid it",
        summary.folded.triangles, at.x(), at.y(), at.z()));
  }
  if (regularisation_share(summary.record) > most_regularisation)
    summary.warnings.push_back(
        fmt::format("regularisation did {:.1f} % of the fluid's work: do not trust the springback",
                    100 * regularisation_share(summary.record)));
  if (summary.limit_not_judged > 0)
    summary.warnings.push_back(
        fmt::format("{:.1f} % of the part is stretched on paths beside the points of the forming limit, "
                    "up to a major strain of {:.3f}: not judged there",
                    100 * summary.limit_not_judged, summary.limit_not_judged_major.value));
  const auto* table = std::get_if<solver::TableHardening>(&material.hardening);
  if (table != nullptr && summary.plastic_strain.value > table->points.back()[0])
    summary.warnings.push_back(
        fmt::format("plastic strain goes to {:.3f}, beyond the flow curve's last point at {:.3f}: hardening "
                    "is assumed there",
                    summary.plastic_strain.value, table->points.back()[0]));
}

double peak_memory_mb() {
  rusage use{};
  getrusage(RUSAGE_SELF, &use);
  return static_cast<double>(use.ru_maxrss) / 1024;  // Linux counts in kB
}

}  // namespace halftool::io
