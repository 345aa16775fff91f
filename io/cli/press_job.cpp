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

// Adds the wall time of its scope to the phases, also of a scope that is broken off.
class TimedPhase {
 public:
  TimedPhase(std::vector<PhaseTime>& phases, std::string name) : phases_(phases), name_(std::move(name)) {}
  ~TimedPhase() { phases_.push_back({name_, seconds_since(start_)}); }
  TimedPhase(const TimedPhase&) = delete;
  TimedPhase& operator=(const TimedPhase&) = delete;

 private:
  std::vector<PhaseTime>& phases_;
  std::string name_;
  Clock::time_point start_ = Clock::now();
};

solver::SheetFields assessed(const Case& job, const solver::SheetModel& model,
                             const solver::SheetState& state, const mesh::ToolSurface* tool) {
  solver::SheetFields fields = solver::sheet_fields(model, state, tool, job.press.normal_stress);
  if (const auto limit = forming_limit(job)) fields.limit_share = solver::limit_shares(*limit, fields);
  return fields;
}

solver::FormedPart press(const Case& job, const Setup& setup, solver::IncrementSolver& increments,
                         PressJournal& journal, PressResult& result) {
  const TimedPhase phase(result.summary.phases, "pressing");
  solver::FormedPart formed = solver::form(increments, setup.tool, job.press, journal, result.summary.record);
  result.formed = assessed(job, increments.model(), formed.state, &setup.tool);
  add_state(result.summary, job, setup.blank, *result.formed);
  return formed;
}

void release(const Case& job, const Setup& setup, const solver::FormedPart& formed,
             solver::IncrementSolver& increments, PressJournal& journal, PressResult& result) {
  const TimedPhase phase(result.summary.phases, "release");
  const solver::ReleasedPart released = solver::release(increments, formed, journal, result.summary.record);
  const solver::Fit fit =
      solver::best_fit(setup.blank, formed.state.place.positions, released.state.place.positions);
  add_springback(result.summary, setup.blank, formed.state, released.state, fit);
  result.released = assessed(job, increments.model(), released.state, nullptr);
  result.released->positions = fit.positions;
  result.released->displacement = fit.positions - setup.blank.mesh.nodes;
}

// Presses, releases and fits; throws what breaks it off, with what was reached so far in the result.
void compute(const Case& job, const Setup& setup, PressJournal& journal, PressResult& result) {
  const solver::SheetModel model =
      solver::make_model(setup.blank, job.material, job.settings.layers, job.settings.enriched_membrane);
  result.summary.mesh.unknowns = model.equations.count;
  solver::IncrementSolver increments(model, job.settings, result.summary.record);
  const solver::FormedPart formed = press(job, setup, increments, journal, result);
  release(job, setup, formed, increments, journal, result);
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
  add_doubts(summary);
  summary.peak_memory = peak_memory_mb();
  return result;
}

}  // namespace halftool::io
