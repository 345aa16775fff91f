#include "io/cli/share_summary.hpp"

#include <algorithm>

#include "io/cli/extremes.hpp"
#include "io/cli/job_limit.hpp"
#include "io/results/nodal_average.hpp"
#include "solver/assessment/governing_share.hpp"
#include "solver/assessment/wrinkling.hpp"

namespace halftool::io {
namespace {

void add_wrinkling(Summary& summary, const solver::SheetFields& fields) {
  Wrinkling found;
  const Eigen::VectorXd areas = triangle_areas(fields.triangles, fields.positions);
  Eigen::VectorXd loose = Eigen::VectorXd::Zero(areas.size());
  double compressed = 0;
  for (Eigen::Index t = 0; t < areas.size(); ++t) {
    if (fields.wrinkling(t) == 0) continue;
    compressed += areas(t);
    if (!solver::is_loose(fields, t)) continue;
    loose(t) = fields.wrinkling(t);
    found.loose_stress = std::min(found.loose_stress, fields.stress_mid(t, 1));
  }
  found.area = compressed / areas.sum();
  found.worst = largest(fields.wrinkling, fields);
  found.loose = largest(loose, fields);
  summary.wrinkling = found;
}

}  // namespace

void add_shares_by_kind(Summary& summary, const Case& job, solver::SheetFields& fields) {
  fields.wrinkling = solver::wrinkling_tendency(fields, solver::mean_r_value(job.material.yield));
  add_wrinkling(summary, fields);
  const solver::GoverningShare largest_of_all =
      solver::add_governing_shares(fields, {job.limits.thinning, bend_limit(job).strain});
  if (largest_of_all.triangle < 0) return;
  summary.governing_share = {largest_of_all.share, centre_of(fields, largest_of_all.triangle)};
  summary.governing_kind = solver::kind_word(largest_of_all.kind);
  const bool has_face = largest_of_all.kind == solver::LimitKind::bend;
  summary.governing_face = !has_face ? "both" : largest_of_all.outer ? "pad face" : "tool face";
}

}  // namespace halftool::io
