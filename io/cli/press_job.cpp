#include "io/cli/press_job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "io/cli/job_steps.hpp"
#include "io/cli/job_summary.hpp"
#include "solver/assembly/sheet_fields.hpp"
#include "solver/springback/release.hpp"
#include "solver/springback/unloading.hpp"

namespace halftool::io {
namespace {

using Clock = std::chrono::steady_clock;

// Between two steps the sheet rests on the tool under so much [MPa]: nothing yields, nothing floats off.
constexpr double kPressureBetweenSteps = 0.01;

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

// Presses step by step: the pressure is taken off after each, and the next begins on the tool as it then
// stands.
solver::FormedPart press(const Case& job, const Setup& setup, const std::vector<solver::PressSpec>& steps,
                         solver::IncrementSolver& increments, PressJournal& journal, PressResult& result) {
  const TimedPhase phase(result.summary.phases, "pressing");
  solver::RunRecord& record = result.summary.record;
  solver::FormedPart formed = solver::form(increments, setup.tool(0), steps[0], journal, record);
  for (std::size_t i = 1; i < steps.size(); ++i) {
    journal.note(fmt::format("step {} of {}", i + 1, steps.size()));
    const solver::SheetState unloaded =
        solver::Unloading(increments, formed, journal, record).lower_to(kPressureBetweenSteps);
    formed = solver::form_on(increments, unloaded, setup.tool(i), steps[i], journal, record);
  }
  result.formed = assessed(job, increments.model(), formed.state, &setup.last_tool());
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
  const std::vector<solver::PressSpec> steps = press_specs(job, setup.blank);
  const solver::FormedPart formed = press(job, setup, steps, increments, journal, result);
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
  Setup setup;
  std::vector<std::vector<std::string>> standing;  // of each tool
  for (std::size_t i = 0; i < job.steps.size(); ++i) {
    const std::vector<std::string> inserts = inserts_in(job, i);
    const auto same = std::find(standing.begin(), standing.end(), inserts);
    setup.tool_of_step.push_back(static_cast<int>(same - standing.begin()));
    if (same != standing.end()) continue;
    standing.push_back(inserts);
    setup.tools.push_back(mesh::make_tool(tool_in(job, i)));
  }
  std::vector<const mesh::ToolSurface*> later;
  for (std::size_t i = 1; i < setup.tools.size(); ++i) later.push_back(&setup.tools[i]);
  setup.blank = mesh::make_blank(job.blank, job.blank_mesh, setup.tools.front(), later);
  setup.seconds = seconds_since(start);
  return setup;
}

PressResult press_job(const Case& job, const Setup& setup, PressJournal& journal) {
  PressResult result;
  Summary& summary = result.summary = start_summary(job, setup.blank, setup.last_tool());
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
  add_doubts(summary, job.material);
  summary.peak_memory = peak_memory_mb();
  return result;
}

}  // namespace halftool::io
