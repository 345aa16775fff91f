#include "io/cli/press_job.hpp"

#include <chrono>

#include "io/cli/job_summary.hpp"
#include "solver/assembly/sheet_fields.hpp"
#include "solver/springback/release.hpp"

namespace halftool::io {
namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

solver::SheetFields assessed(const Case& job, const solver::SheetModel& model,
                             const solver::SheetState& state, const mesh::ToolSurface* tool) {
  solver::SheetFields fields = solver::sheet_fields(model, state, tool, job.press.normal_stress);
  if (const auto limit = forming_limit(job)) fields.limit_share = solver::limit_shares(*limit, fields);
  return fields;
}

// Presses, releases and fits; throws what breaks it off, with what was reached so far in the result.
void compute(const Case& job, const Setup& setup, PressJournal& journal, PressResult& result) {
  const mesh::Blank& blank = setup.blank;
  Summary& summary = result.summary;
  const solver::SheetModel model =
      solver::make_model(blank, job.material, job.settings.layers, job.settings.enriched_membrane);
  summary.mesh.unknowns = model.equations.count;
  solver::IncrementSolver increments(model, job.settings, summary.record);

  auto start = Clock::now();
  const solver::FormedPart formed = solver::form(increments, setup.tool, job.press, journal, summary.record);
  result.formed = assessed(job, model, formed.state, &setup.tool);
  add_state(summary, job, blank, *result.formed);
  summary.phases.push_back({"pressing", seconds_since(start)});

  start = Clock::now();
  const solver::ReleasedPart released = solver::release(increments, formed, journal, summary.record);
  result.released = assessed(job, model, released.state, nullptr);
  const solver::Fit fit =
      solver::best_fit(blank, formed.state.place.positions, released.state.place.positions);
  add_springback(summary, blank, formed.state.place.positions, released.state.place.positions, fit);
  result.released->positions = fit.positions;
  result.released->displacement = fit.positions - blank.mesh.nodes;
  summary.phases.push_back({"release", seconds_since(start)});
}

// The last accepted state stands in for the formed part that was not reached.
void keep_last_state(const Case& job, const Setup& setup, const PressJournal& journal, PressResult& result) {
  if (result.formed || !journal.last()) return;
  result.formed = journal.last();
  const Outcome outcome = result.summary.outcome;
  add_state(result.summary, job, setup.blank, *result.formed);
  result.summary.outcome = outcome;  // a limit passed on the way does not outweigh breaking off
}

}  // namespace

Setup make_setup(const Case& job) {
  const auto start = Clock::now();
  mesh::ToolSurface tool = mesh::make_tool(job.tool);
  mesh::Blank blank = mesh::make_blank(job.blank, job.blank_mesh, tool);
  return {std::move(tool), std::move(blank), seconds_since(start)};
}

PressResult press_job(const Case& job, const Setup& setup, PressJournal& journal) {
  PressResult result;
  Summary& summary = result.summary = start_summary(job, setup.blank, setup.tool);
  summary.phases.push_back({"tool and blank", setup.seconds});
  try {
    compute(job, setup, journal, result);
  } catch (const solver::SolveError& error) {
    summary.outcome = Outcome::not_completed;
    summary.reason = error.what();
  } catch (const solver::Stopped& stop) {
    summary.outcome = Outcome::stopped;
    summary.reason = stop.what();
  }
  keep_last_state(job, setup, journal, result);
  journal.finish();
  for (const std::string& note : journal.notes()) summary.warnings.push_back(note);
  summary.peak_memory = peak_memory_mb();
  return result;
}

}  // namespace halftool::io
