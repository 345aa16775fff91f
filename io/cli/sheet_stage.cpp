#include "io/cli/sheet_stage.hpp"

#include <fmt/format.h>

#include <utility>

#include "io/cli/job_steps.hpp"
#include "mesh/trim.hpp"
#include "solver/assembly/trimmed_state.hpp"
#include "solver/assessment/edge_limit.hpp"

namespace halftool::io {

SheetStage::SheetStage(const Case& job, mesh::Blank sheet, solver::RunRecord& record)
    : blank(std::move(sheet)),
      model(solver::make_model(blank, job.material, job.settings.layers, job.settings.enriched_membrane)),
      steps(press_specs(job, blank)),
      increments(model, job.settings, record) {
  model.smallest_pad_radius = job.smallest_pad_radius;
}

std::vector<const TrimLine*> trims_after(const Case& job, std::size_t step, TrimTime when) {
  const bool last = step + 1 == job.steps.size();
  std::vector<const TrimLine*> lines;
  for (const TrimLine& line : job.trims) {
    const bool here = line.after_step.empty() ? last : line.after_step == job.steps[step].name;
    if (here && (!last || line.when == when)) lines.push_back(&line);
  }
  return lines;
}

TrimmedStage trim(const Case& job, const TrimLine& line, const SheetStage& before, const mesh::Points& laid,
                  const std::vector<const solver::SheetState*>& states, Summary& summary,
                  PressJournal& journal) {
  auto cut = [&] {
    try {
      return mesh::trim_blank(before.blank, laid, {line.line, line.keep == TrimKeeps::inside, line.along});
    } catch (const mesh::MeshError& refusal) {
      throw solver::SolveError(fmt::format("trim[{}]: {}", &line - job.trims.data() + 1, refusal.what()));
    }
  }();
  if (cut.details_lost > 0)
    journal.note(fmt::format(
        "the trim line has {} notches or corners smaller than the mesh; they are left out within an element",
        cut.details_lost));
  journal.trimmed(cut.parent);
  summary.trims.push_back({line.after_step, cut.kept_share});
  TrimmedStage result{std::make_unique<SheetStage>(job, cut.blank, summary.record), {}};
  for (const solver::SheetState* state : states)
    result.states.push_back(solver::trimmed_state(before.model, *state, cut, result.stage->model));
  solver::note_strain_when_cut(cut, before.blank, result.states.front().place.positions);
  result.stage->blank.strain_when_cut = cut.blank.strain_when_cut;
  return result;
}

}  // namespace halftool::io
