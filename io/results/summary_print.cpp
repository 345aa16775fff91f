#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <ostream>

#include "io/report/screen_text.hpp"
#include "io/results/summary.hpp"

namespace halftool::io {
namespace {

constexpr double psi_per_mpa = 145.03773773;  // 1 psi = 6894.757293 Pa (exact inch and pound-force)

double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}

std::string both_pressures(double mpa) {
  return fmt::format("{:.4g} MPa ({:.0f} psi)", mpa, mpa * psi_per_mpa);
}

std::string at(const Extreme& extreme) {
  if (!extreme.at.allFinite()) return "";
  return fmt::format("  at ({:.1f}, {:.1f}, {:.1f}) mm", extreme.at.x(), extreme.at.y(), extreme.at.z());
}

/// One line "  label    value"; the labels form a column.
void line(std::ostream& out, const std::string& label, const std::string& value) {
  if (value.empty()) return;
  out << fmt::format("  {:<24}{}\n", label, value);
}

std::string wave_words(const solver::EdgeWaves& waves) {
  return fmt::format("{}, up to {:.2f} mm high and {:.0f} mm long", waves.count, waves.height, waves.length);
}

// The waves of flange edges, where they rose to a tenth of the thickness or some are left.
void print_waves(std::ostream& out, const Summary& s) {
  if (!s.edge_waves) return;
  const bool rose = s.edge_waves->highest.height > 2 * solver::kLeastWave * s.initial_thickness;
  if (!rose && s.edge_waves->left.count == 0) return;
  const solver::EdgeWaves& highest = s.edge_waves->highest;
  const solver::EdgeWaves& left = s.edge_waves->left;
  line(
      out, "waves of flange edges",
      fmt::format("{}, at {}{}", wave_words(highest), both_pressures(highest.pressure), at({0, highest.at})));
  line(out, "  left at the end",
       left.count == 0 ? fmt::format("none above {:.2f} mm; strain along the edge {:.3f} to {:.3f}",
                                     solver::kLeastWave * s.initial_thickness, s.edge_waves->least_strain,
                                     s.edge_waves->largest_strain)
                       : fmt::format("{}, bending strain {:.4f}{}", wave_words(left), left.bending_strain,
                                     at({0, left.at})));
}

/// A strain, its place, and its share of a limit where there is one.
void print_share(std::ostream& out, const char* label, const Extreme& strain, const Extreme& share,
                 const std::string& limit) {
  if (std::isnan(strain.value)) return;
  line(out, label, fmt::format("{:8.4f}{}", strain.value, at(strain)));
  line(out, "  share of its limit",
       std::isnan(share.value) ? limit : fmt::format("{:6.2f} % of {}", 100 * share.value, limit));
}

// Of all limits that are judged the one that is used most, and the tendency to wrinkle.
void print_shares(std::ostream& out, const Summary& s) {
  if (!s.governing_kind.empty())
    line(out, "largest share",
         fmt::format("{:6.2f} % of its limit, {}{}{}", 100 * s.governing_share.value, s.governing_kind,
                     s.governing_face == "both" ? "" : " on the " + s.governing_face, at(s.governing_share)));
  if (!s.wrinkling || !(s.wrinkling->worst.value > 0)) return;
  const Wrinkling& w = *s.wrinkling;
  line(out, "wrinkling tendency",
       fmt::format("{:6.2f} % of the in-plane stress compresses on the way to this strain{}",
                   100 * w.worst.value, at(w.worst)));
  line(out, "  off the tool",
       w.loose.value > 0 ? fmt::format("{:6.2f} %, minor stress {:.0f} MPa{}", 100 * w.loose.value,
                                       w.loose_stress, at(w.loose))
                         : "none: the tool holds the sheet flat there");
  line(out, "", "a tendency by the strain reached (Hill 1948; common practice, no source), no limit");
}

void print_part(std::ostream& out, const Summary& s) {
  if (std::isnan(s.thinning.value)) return;
  out << "\nFormed part\n";
  const auto percent = [&](const char* label, const Extreme& extreme) {
    if (!std::isnan(extreme.value))
      line(out, label, fmt::format("{:6.2f} %{}", 100 * extreme.value, at(extreme)));
  };
  const auto strain = [&](const char* label, const Extreme& extreme) {
    if (!std::isnan(extreme.value)) line(out, label, fmt::format("{:8.4f}{}", extreme.value, at(extreme)));
  };
  percent("thinning", s.thinning);
  percent("thickening", s.thickening);
  strain("strain, mid-surface", s.major_strain);
  strain("strain, faces", s.face_strain);
  strain("plastic strain", s.plastic_strain);
  percent("share of forming limit", s.limit_share);
  percent("  along the path taken", s.path_share);
  if (!s.limit_name.empty()) line(out, "forming limit", s.limit_name);
  print_share(out, "along cut edges", s.edge_strain, s.edge_share,
              s.edge_share_of.empty() ? s.edge_limit : s.edge_share_of + "; limits: " + s.edge_limit);
  print_share(out, "outer fibre of bends", s.bend_strain, s.bend_share, s.bend_limit);
  if (s.bend_edge_strain.value > s.bend_strain.value)
    line(out, "  beside cut edges",
         fmt::format("{:8.4f}{}; not judged, as specimens of bend tests have such edges",
                     s.bend_edge_strain.value, at(s.bend_edge_strain)));
  print_shares(out, s);
  print_waves(out, s);
}

void print_release(std::ostream& out, const Summary& s) {
  if (s.flanges.empty() && !s.fit) return;
  out << "\nReleased part\n";
  if (!s.flanges.empty())
    out << fmt::format("  {:<24}{:>12}{:>12}{:>12}\n", "flange", "formed", "released", "springback");
  for (const FlangeAngle& flange : s.flanges)
    out << fmt::format("  {:<24}{:>8.2f} deg{:>8.2f} deg{:>+8.2f} deg\n", flange.name, degrees(flange.formed),
                       degrees(flange.released), degrees(flange.released - flange.formed));
  for (const TrimRecord& trim : s.trims)
    line(
        out, "trimmed",
        fmt::format("{:.1f} % of the sheet kept{}", 100 * trim.kept_share,
                    std::isnan(trim.motion)
                        ? ""
                        : fmt::format("; the part moved by {:.3f} mm at most when it was cut", trim.motion)));
  line(out, "hardening", s.hardening);
  if (!s.fit) return;
  line(out, "distance from formed", fmt::format("{:.3f} mm root mean square, after best fit", s.fit->rms));
  line(out, "largest distance", fmt::format("{:.3f} mm{}", s.fit->largest, at({0, s.fit->largest_at})));
}

void print_comparisons(std::ostream& out, const Summary& s) {
  if (s.comparisons.empty()) return;
  out << "\nBeside estimates by hand formulas (halftool reckon)\n"
      << fmt::format("  {:<60}{:>10}{:>11}{:>20}\n", "", "computed", "estimated", "band");
  for (const Comparison& c : s.comparisons) {
    const std::string band = std::isnan(c.low) ? "" : fmt::format("{:.4g} to {:.4g}", c.low, c.high);
    const std::string computed = fmt::format("{}{:.4g}", c.not_reached ? "> " : "", c.computed);
    out << fmt::format("  {:<60}{:>10}{:>11.4g}{:>20}{:>+7.0f} %{}\n",
                       c.what + (c.unit.empty() ? "" : " [" + c.unit + "]"), computed, c.estimated, band,
                       100 * c.difference(), c.is_apart() ? "  APART" : "");
  }
  for (const Comparison& c : s.comparisons)
    if (c.is_apart()) {
      out << "  APART: more than 30 % between them. The formulas leave out pressure, friction and how the "
             "web "
             "gives\n  way; where that does not explain it, look at mesh and input before trusting either.\n";
      break;
    }
}

void print_trust(std::ostream& out, const Summary& s) {
  const solver::RunRecord& r = s.record;
  if (r.pressure_force_z == 0) return;  // the dwell was not reached
  out << "\nHow far to trust the computation\n";
  line(out, "force of the fluid", fmt::format("{:.1f} kN along the press axis", r.pressure_force_z / 1000));
  line(out, "force of the tool", fmt::format("{:.1f} kN", r.tool_force_z / 1000));
  if (r.held_force_z != 0)
    line(out, "force of clamped edges", fmt::format("{:.1f} kN", r.held_force_z / 1000));
  if (!std::isnan(force_imbalance(r)))
    line(out, "imbalance", fmt::format("{:.4f} %", 100 * force_imbalance(r)));
  line(out, "out-of-balance force", fmt::format("{:.1e} of the pressure force", r.out_of_balance));
  line(out, "supports after release", fmt::format("{:.1e} N", r.support_reaction));
  line(
      out, "penetration",
      fmt::format("{:.5f} mm, {:.3f} % of the thickness", r.largest_penetration, 100 * penetration_share(s)));
  line(out, "work",
       fmt::format("fluid {:.2f} J, plastic {:.2f} J, friction {:.2f} J", r.external_work / 1000,
                   r.plastic_work / 1000, r.friction_work / 1000));
  line(out, "regularisation",
       fmt::format("{:.4f} J{}", r.regularisation_work / 1000,
                   std::isnan(regularisation_share(r))
                       ? ""
                       : fmt::format(", {:.3f} % of the fluid's work", 100 * regularisation_share(r))));
}

void print_effort(std::ostream& out, const Summary& s) {
  const solver::RunRecord& r = s.record;
  out << "\nEffort\n";
  line(out, "mesh",
       fmt::format("{} nodes, {} triangles, {} unknowns; edges {:.2f} to {:.2f} mm", s.mesh.nodes,
                   s.mesh.triangles, s.mesh.unknowns, s.mesh.finest, s.mesh.coarsest));
  line(out, "",
       fmt::format("smallest angle {:.1f} deg; tool {} facets", degrees(s.mesh.smallest_angle),
                   s.mesh.tool_facets));
  line(out, "increments", fmt::format("{} accepted, {} cut, {} snaps damped", r.increments, r.cuts, r.snaps));
  line(out, "iterations",
       fmt::format("{} forming, {} dwell, {} release", r.iterations, r.iterations_dwell,
                   r.iterations_release));
  line(out, "factorisations",
       fmt::format("{}, of these {} indefinite; line search {} residuals", r.factorisations,
                   r.indefinite_factorisations, r.line_search_evaluations));
  std::string phases;
  for (const PhaseTime& phase : s.phases)
    phases += fmt::format("{}{} {:.1f}", phases.empty() ? "" : ", ", phase.name, phase.seconds);
  line(out, "wall time", fmt::format("{:.1f} s{}", total_seconds(s), phases.empty() ? "" : ": " + phases));
  line(out, "in the solver",
       fmt::format("factor {:.1f}, solve {:.1f}, element {:.1f}, other {:.1f} s", r.seconds_factor,
                   r.seconds_solve, r.seconds_element, r.seconds_other));
  if (!std::isnan(overhead_share(r)))
    line(out, "", fmt::format("{:.1f} % outside factor, solve and element", 100 * overhead_share(r)));
  if (!std::isnan(s.peak_memory)) line(out, "peak memory", fmt::format("{:.0f} MB", s.peak_memory));
}

void print_list(std::ostream& out, const char* title, const std::vector<std::string>& items) {
  if (items.empty()) return;
  out << '\n' << title << '\n';
  for (const std::string& item : items) out << "  - " << item << '\n';
}

}  // namespace

void print_summary(std::ostream& out, const Summary& s) {
  out << fmt::format("{}: {}\n", s.case_title, outcome_word(s.outcome));
  if (!s.reason.empty()) out << "  " << s.reason << '\n';
  line(out, "case", s.case_file);
  line(out, "sheet", s.material.empty() ? "" : fmt::format("{}, {:.4g} mm", s.material, s.initial_thickness));
  line(out, "constants", s.sheet_grade.empty() ? "" : s.sheet_grade + ": " + s.sheet_source);
  if (s.rate_factor != 1)
    line(out, "strain rate",
         fmt::format("flow stress times {:.4f}, constant, as the case gives it", s.rate_factor));
  line(out, "pressure reached", both_pressures(s.reached_pressure));
  line(out, "pressure asked for", both_pressures(s.peak_pressure));
  print_part(out, s);
  print_release(out, s);
  print_comparisons(out, s);
  print_trust(out, s);
  print_effort(out, s);
  for (const ScreenedTool& tool : s.screened_tools) {
    out << '\n';
    if (!tool.from_step.empty())
      out << fmt::format("Tool half from step {} on, up to {}\n", tool.from_step,
                         both_pressures(tool.pressure));
    out << print_screens(tool.screens, "");
  }
  print_list(out, "Warnings", s.warnings);
  print_list(out, "Cautions", s.cautions);
  if (!s.credential.empty()) out << '\n' << s.credential << '\n';
  out << fmt::format("halftool {}\n", s.version);
}

}  // namespace halftool::io
