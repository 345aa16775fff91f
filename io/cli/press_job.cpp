#include "io/cli/press_job.hpp"

#include <fmt/format.h>

#include <chrono>

#include "io/cli/comparing.hpp"
#include "io/cli/job_steps.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/setup_checks.hpp"
#include "io/cli/share_summary.hpp"
#include "io/cli/sheet_stage.hpp"
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
                             const solver::SheetState& state, const mesh::ToolSurface* tool,
                             const PressJournal& journal) {
  solver::SheetFields fields = solver::sheet_fields(model, state, tool, job.press.normal_stress);
  if (const auto limit = forming_limit(job)) fields.limit_share = solver::limit_shares(*limit, fields);
  fields.path_share = journal.path_shares();
  return fields;
}

// The pressed sheet as far as it has come.
struct Pressed {
  std::unique_ptr<SheetStage> stage;
  solver::FormedPart formed;
};

// Presses step by step: the pressure is taken off after each, the sheet is trimmed where the case says so,
// and the next begins on the tool as it then stands.
Pressed press(const Case& job, const Setup& setup, PressJournal& journal, PressResult& result) {
  const TimedPhase phase(result.summary.phases, "pressing");
  solver::RunRecord& record = result.summary.record;
  Pressed now{std::make_unique<SheetStage>(job, setup.blank, record), {}};
  result.summary.mesh.unknowns = now.stage->model.equations.count;
  now.formed =
      solver::form(now.stage->increments, setup.tools->in_step(0), now.stage->steps[0], journal, record);
  for (std::size_t i = 1; i < job.steps.size(); ++i) {
    journal.note(fmt::format("step {} of {}", i + 1, job.steps.size()));
    solver::SheetState state =
        solver::Unloading(now.stage->increments, now.formed, journal, record).lower_to(kPressureBetweenSteps);
    for (const TrimLine* line : trims_after(job, i - 1, TrimTime::after_release)) {
      TrimmedStage trimmed =
          trim(job, *line, *now.stage, state.place.positions, {&state}, result.summary, journal);
      now.stage = std::move(trimmed.stage);
      state = std::move(trimmed.states.front());
    }
    now.formed = solver::form_on(now.stage->increments, state, setup.tools->in_step(i), now.stage->steps[i],
                                 journal, record);
  }
  result.formed = assessed(job, now.stage->model, now.formed.state, &setup.tools->last(), journal);
  add_state(result.summary, job, *result.formed);
  add_edges_and_bends(result.summary, job, now.stage->blank, *result.formed);
  add_shares_by_kind(result.summary, job, *result.formed);
  add_folds(result.summary, job, *result.formed);
  add_tool_in_sheet(result.summary, setup.tools->last(), *result.formed);
  return now;
}

// Cuts along the lines of one time after the last step, laid on the formed part, and lets the part come to
// rest.
void trim_free_part(const Case& job, TrimTime when, Pressed& pressed, solver::SheetState& part,
                    PressJournal& journal, Summary& summary) {
  for (const TrimLine* line : trims_after(job, job.steps.size() - 1, when)) {
    solver::SheetState& formed = pressed.formed.state;
    TrimmedStage trimmed =
        trim(job, *line, *pressed.stage, formed.place.positions, {&formed, &part}, summary, journal);
    pressed.stage = std::move(trimmed.stage);
    formed = std::move(trimmed.states[0]);
    const solver::PressSpec& spec = pressed.stage->steps.back();
    pressed.formed.loading.friction_of = spec.friction_of.size() > 0 ? &spec.friction_of : nullptr;
    part = solver::free_balance(pressed.stage->increments, pressed.formed, trimmed.states[1], journal,
                                summary.record);
    const solver::Fit fit =
        solver::best_fit(pressed.stage->blank, trimmed.states[1].place.positions, part.place.positions);
    summary.trims.back().motion = fit.largest;
  }
}

void release(const Case& job, Pressed pressed, PressJournal& journal, PressResult& result) {
  const TimedPhase phase(result.summary.phases, "release");
  const std::size_t trims_before = result.summary.trims.size();
  solver::ReleasedPart released =
      solver::release(pressed.stage->increments, pressed.formed, journal, result.summary.record);
  if (!trims_after(job, job.steps.size() - 1, TrimTime::before_release).empty()) {
    trim_free_part(job, TrimTime::before_release, pressed, released.unloaded, journal, result.summary);
    released.state = std::move(released.unloaded);
  }
  trim_free_part(job, TrimTime::after_release, pressed, released.state, journal, result.summary);

  const mesh::Blank& blank = pressed.stage->blank;
  const solver::SheetState& formed = pressed.formed.state;
  const solver::Fit fit = solver::best_fit(blank, formed.place.positions, released.state.place.positions);
  add_springback(result.summary, blank, formed, released.state, fit);
  result.released = assessed(job, pressed.stage->model, released.state, nullptr, journal);
  result.released->positions = fit.positions;
  result.released->displacement = fit.positions - blank.mesh.nodes;
  if (result.summary.trims.size() > trims_before)
    result.formed_trimmed = assessed(job, pressed.stage->model, formed, nullptr, journal);
}

// The last accepted state stands in for the formed part that was not reached.
void keep_last_state(const Case& job, const PressJournal& journal, PressResult& result) {
  if (result.formed || !journal.last()) return;
  result.formed = journal.last();
  const Outcome outcome = result.summary.outcome;
  add_state(result.summary, job, *result.formed);
  result.summary.outcome = outcome;  // a limit passed on the way does not outweigh breaking off
}

}  // namespace

Setup make_setup(const Case& job) {
  const auto tools = std::make_shared<ToolSet>(make_tools(job));
  Setup setup = make_setup(job, tools);
  setup.seconds += tools->seconds;
  return setup;
}

Setup make_setup(const Case& job, std::shared_ptr<const ToolSet> tools) {
  const auto start = Clock::now();
  Setup setup;
  setup.tools = std::move(tools);
  refuse_unmet_trims(job, *setup.tools);
  std::vector<const mesh::ToolSurface*> later;
  for (std::size_t i = 1; i < setup.tools->tools.size(); ++i) later.push_back(&setup.tools->tools[i]);
  setup.blank = mesh::make_blank(job.blank, job.blank_mesh, setup.tools->tools.front(), later);
  setup.seconds = seconds_since(start);
  return setup;
}

PressResult press_job(const Case& job, const Setup& setup, PressJournal& journal) {
  PressResult result;
  Summary& summary = result.summary = start_summary(job, setup.blank, setup.tools->last());
  summary.phases.push_back({"tool and blank", setup.seconds});
  journal.follow_filling(
      {summary.inside_radii, job.blank.thickness, job.blank.symmetric_x, job.blank.symmetric_y},
      setup.tools->last());
  try {
    release(job, press(job, setup, journal, result), journal, result);
  } catch (const solver::SolveError& error) {
    summary.outcome = Outcome::not_completed;
    summary.reason = error.what();
  } catch (const solver::Stopped& stop) {
    summary.outcome = Outcome::stopped;
    summary.reason = stop.what();
  }
  keep_last_state(job, journal, result);
  if (result.formed) {
    summary.edge_waves = journal.edge_waves();
    compare_filling(summary, *journal.filling(), summary.reached_pressure);
  }
  journal.finish();
  for (const std::string& note : journal.notes()) summary.warnings.push_back(note);
  add_doubts(summary, job.material);
  summary.peak_memory = peak_memory_mb();
  return result;
}

}  // namespace halftool::io
