#include "io/cli/job_limit.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <stdexcept>

#include "io/report/limit_text.hpp"
#include "solver/assessment/bend_limit.hpp"
#include "solver/assessment/computed_limit.hpp"

namespace halftool::io {
namespace {

solver::MeasuredLimit measured_limit(const LimitPoints& limit) {
  solver::MeasuredLimit curve;
  for (const auto& [minor, major] : limit.points)
    curve.points.push_back(limit.engineering ? Eigen::Vector2d(std::log1p(minor), std::log1p(major))
                                             : Eigen::Vector2d(minor, major));
  return curve;
}

bool is_computed(FormingLimit limit) {
  return limit == FormingLimit::computed || limit == FormingLimit::lower;
}

/// With the grade of what it was computed from.
std::string computed_words(const Case& job) {
  const bool given = job.given.contains("sheet.forming_limit.computed.imperfection");
  const double m = solver::rate_exponent(job.material);
  const double pressure = job.computed_limit->normal_pressure;
  return fmt::format("computed, imperfection {:g} {}, {}{}sheet {}", job.computed_limit->imperfection,
                     given ? "as given" : "assumed", m > 0 ? fmt::format("rate sensitivity m {:g}, ", m) : "",
                     pressure > 0 ? fmt::format("raised by {:g} MPa between flat faces, ", pressure) : "",
                     job.material.grade.empty() ? "of no stated grade" : job.material.grade);
}

std::string pressure_effect(const solver::ComputedLimit& limit) {
  if (limit.normal_pressure == 0) return "";
  const double plain = solver::limit_major(solver::MeasuredLimit{limit.unpressed}, 0);
  return fmt::format(
      "; raised by a normal pressure of {:g} MPa as between flat faces (own arithmetic; {:.3f} and {:.3f} "
      "without it, which holds where the fluid follows a neck)",
      limit.normal_pressure, plain, limit.unpressed.back().y());
}

std::string rate_effect(const solver::ComputedLimit& limit, const solver::SheetMaterial& material) {
  if (limit.rate_exponent > 0)
    return "groove and sheet differ in strain rate, and flow stress goes as its power m";
  const double m = solver::rate_exponent(material);
  if (m < 0) return fmt::format("no rate effect, as m {:g} is below 0", m);
  return material.strain_rate ? "no rate effect" : "no rate effect, as the sheet states no rate sensitivity";
}

std::string estimate_words(const solver::EstimatedLimit& limit) {
  return fmt::format(
      "estimate from hardening and thickness, {:.3f} true strain at plane strain (Keeler and Brazier 1977; "
      "made for low-carbon steel){}",
      limit.plane_strain, limit.thickness_capped() ? ", thickness capped at 3 mm" : "");
}

std::string curve_words(const Case& job, const solver::ComputedLimit& limit) {
  return fmt::format(
      "{} (Marciniak and Kuczynski 1967; straight paths, {}{}): {:.3f} true strain at plane strain, {:.3f} "
      "at "
      "equibiaxial tension{}",
      computed_words(job), rate_effect(limit, job.material),
      solver::hardens_kinematically(job.material) ? "; isotropic hardening in place of kinematic" : "",
      solver::limit_major(limit, 0), limit.points.back().y(), pressure_effect(limit));
}

std::string measured_words(const Case& job, const solver::MeasuredLimit& limit) {
  const double plane_strain = solver::limit_major(limit, 0);
  return fmt::format(
      "measured, {} ({}): {} points, minor true strain {:.3f} to {:.3f}, straight between them, not judged "
      "beside them{}",
      job.limit_points->source, job.limit_points->grade, limit.points.size(), limit.points.front().x(),
      limit.points.back().x(),
      std::isnan(plane_strain) ? "" : fmt::format("; {:.3f} at plane strain", plane_strain));
}

std::string cut_words(EdgeCut cut) {
  static const std::array<const char*, 4> words = {"cut not stated", "milled", "laser cut", "sheared"};
  return words.at(static_cast<std::size_t>(cut));
}

std::string limit_of_growth(double growth, const std::string& name) {
  return fmt::format("{:.4f} true strain = ln(1 + {:g}), {}", solver::edge_limit_strain(growth), growth,
                     name);
}

/// @throws CaseError
void require_followed_pressure(const Case& job) {
  const double most = solver::most_normal_pressure(job.material);
  const double pressure = job.computed_limit->normal_pressure;
  if (pressure <= most) return;
  const std::string key = "sheet.forming_limit.computed.normal_pressure";
  throw CaseError(
      {{job.file.string(), job.given.at(key), key, fmt::format("{:g} MPa", pressure),
        fmt::format("0 to {:g} MPa, the sheet's 0.2 % proof stress: beyond it pressure alone makes the "
                    "sheet flow and no groove grows",
                    most),
        "take the pressure at which the place stretches, not the peak"}});
}

}  // namespace

void complete_limit(Case& job) {
  if (!is_computed(job.limits.forming_limit)) return;
  require_followed_pressure(job);
  try {
    job.computed_limit = solver::computed_limit(job.material, job.computed_limit->imperfection, 1,
                                                job.computed_limit->normal_pressure);
  } catch (const std::runtime_error& error) {
    const std::string key = "sheet.forming_limit.computed";
    const auto line = job.given.find(key + ".imperfection");
    throw CaseError({{job.file.string(), line == job.given.end() ? 0 : line->second, key, error.what(),
                      "a metal whose necking can be followed",
                      "look at the hardening law and the yield condition, or write forming_limit = "
                      "\"none\" or \"estimate\" in [limits]"}});
  }
}

std::optional<solver::FormingLimit> forming_limit(const Case& job) {
  switch (job.limits.forming_limit) {
    case FormingLimit::none:
      return std::nullopt;
    case FormingLimit::measured:
      return measured_limit(*job.limit_points);
    case FormingLimit::computed:
      return job.computed_limit.value();
    case FormingLimit::lower:
      return solver::LowerLimit{solver::estimated_limit(job.material, job.blank.thickness),
                                job.computed_limit.value()};
    case FormingLimit::estimate:
      break;
  }
  return solver::estimated_limit(job.material, job.blank.thickness);
}

std::string limit_kind(FormingLimit limit) {
  if (limit == FormingLimit::measured) return "measured";
  if (limit == FormingLimit::lower) return "lower (computed or estimated)";
  return limit == FormingLimit::computed ? "computed" : "estimated";
}

std::string limit_credential(const Case& job) {
  switch (job.limits.forming_limit) {
    case FormingLimit::none:
      return "not judged";
    case FormingLimit::measured:
      return fmt::format("measured, {} ({})", job.limit_points->source, job.limit_points->grade);
    case FormingLimit::computed:
      return computed_words(job) + ", not measured";
    case FormingLimit::lower:
      return "lower of the estimate and " + computed_words(job) + ", not measured";
    case FormingLimit::estimate:
      break;
  }
  return "estimated from n and t, not measured";
}

std::string limit_title(const Case& job) {
  if (job.limits.forming_limit == FormingLimit::measured) return "measured, " + job.limit_points->source;
  if (job.limits.forming_limit == FormingLimit::computed) return computed_words(job);
  if (job.limits.forming_limit == FormingLimit::lower) return "the lower of estimated and computed";
  return "estimated from hardening and thickness";
}

std::string limit_words(const Case& job) {
  const auto limit = forming_limit(job);
  if (!limit) return "none";
  if (const auto* estimate = std::get_if<solver::EstimatedLimit>(&*limit)) return estimate_words(*estimate);
  if (const auto* measured = std::get_if<solver::MeasuredLimit>(&*limit))
    return measured_words(job, *measured);
  if (const auto* lower = std::get_if<solver::LowerLimit>(&*limit))
    return "the lower of two, not measured: " + curve_words(job, lower->computed) + "; " +
           estimate_words(lower->estimate);
  const auto& computed = std::get<solver::ComputedLimit>(*limit);
  return fmt::format(
      "{}; not judged where minor over major strain lies below {:.2f}, a tenth beyond uniaxial tension",
      curve_words(job, computed), computed.points.front().x() / computed.points.front().y());
}

std::string limit_facts(const Case& job) {
  std::string text = "# forming limit: " + limit_words(job) + '\n';
  const FormingLimit judge = job.limits.forming_limit;
  if (judge == FormingLimit::estimate || judge == FormingLimit::lower)
    text += "#   estimate: " + estimate_formula(solver::estimated_limit(job.material, job.blank.thickness)) +
            '\n';
  if (!is_computed(job.limits.forming_limit)) return text;
  text += job.limits.forming_limit == FormingLimit::lower ? "#   minor and major true strain, computed:"
                                                          : "#   minor and major true strain:";
  int n = 0;
  for (const Eigen::Vector2d& point : job.computed_limit->points)
    text += fmt::format("{}({:.3f}, {:.3f})", n++ % 6 == 0 ? "\n#     " : ", ", point.x(), point.y());
  return text + '\n';
}

std::string edge_and_bend_facts(const Case& job) {
  const CutLimits edges = edge_limits(job);
  return fmt::format("# edge limit: {}{}\n# bend limit: {}\n", edges.words,
                     edges.of.any() ? "; of the case" : "", bend_limit(job).words);
}

std::optional<double> CutLimits::lowest() const {
  std::optional<double> least;
  for (const auto& limit : {of.outline, of.holes, of.trimmed})
    if (limit && !(least && *least < *limit)) least = limit;
  return least;
}

CutLimits edge_limits(const Case& job) {
  const Limits& given = job.limits;
  const auto outline = given.edge_stretch ? given.edge_stretch : given.hole_expansion;
  const auto strain = [](std::optional<double> stretch) {
    return stretch ? std::optional(solver::edge_limit_strain(*stretch)) : std::nullopt;
  };
  CutLimits limits;
  limits.of = {strain(outline), strain(given.hole_stretch ? given.hole_stretch : outline),
               strain(given.trim_stretch ? given.trim_stretch : outline)};
  const std::string cut = cut_words(job.edge_cut);
  limits.words = outline
                     ? limit_of_growth(*outline, given.edge_stretch ? "edge stretch"
                                                                    : "hole expansion ratio of ISO 16630") +
                           " (" + cut + ")"
                     : fmt::format("not judged: no limit given ({})", cut);
  if (given.hole_stretch || job.hole_cut != EdgeCut::not_stated)
    limits.words += fmt::format(
        "; rims of holes ({}): {}", cut_words(job.hole_cut),
        given.hole_stretch ? limit_of_growth(*given.hole_stretch, "edge stretch") : "the same limit");
  if (given.trim_stretch)
    limits.words += "; edges trimmed between steps: " +
                    limit_of_growth(*given.trim_stretch, "edge stretch since the trim");
  return limits;
}

StrainLimit bend_limit(const Case& job) {
  if (job.limits.bend_strain)
    return {job.limits.bend_strain, fmt::format("{:.4f} true strain, as given", *job.limits.bend_strain)};
  if (!job.limits.bend_ratio) return {std::nullopt, "not judged: no limit given"};
  const double strain = solver::bend_limit_strain(*job.limits.bend_ratio);
  return {strain, fmt::format("{:.4f} true strain = ln(1 + t/(2 R + t)) at R/t = {:g}{}", strain,
                              *job.limits.bend_ratio,
                              job.limits.bend_source.empty() ? ", as given" : ", " + job.limits.bend_source)};
}

}  // namespace halftool::io
