#include "io/cli/press_job.hpp"

#include <fmt/format.h>

#include <chrono>

#include "io/cli/checkpoint.hpp"
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
  ~TimedPhase() { phases_.push_back({name_, seconds()}); }
  TimedPhase(const TimedPhase&) = delete;
  TimedPhase& operator=(const TimedPhase&) = delete;

  void add_earlier(double seconds) { earlier_ = seconds; }
  [[nodiscard]] double seconds() const { return earlier_ + seconds_since(start_); }

 private:
  std::vector<PhaseTime>& phases_;
  std::string name_;
  double earlier_ = 0;
  Clock::time_point start_ = Clock::now();
};

// Lines that are cut after the last step do not count: one that could not be cut may be another when the
// pressing is taken up again.
CheckpointTerms terms_of(const Case& job, const Setup& setup) {
  Case pressed = job;
  std::erase_if(pressed.trims, [&](const TrimLine& line) {
    return line.after_step.empty() || line.after_step == job.steps.back().name;
  });
  CheckpointTerms terms{print_case(pressed), &setup.blank.mesh, {}};
  for (const mesh::ToolSurface& tool : setup.tools->tools) terms.tools.push_back(&tool.mesh());
  return terms;
}

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

// Presses a job step by step: the pressure is taken off after each, the sheet is trimmed where the case says
// so, and the next begins on the tool as it then stands.
class Steps {
 public:
  Steps(const Case& job, const Setup& setup, PressJournal& journal, Summary& summary, TimedPhase& phase)
      : job_(job), setup_(setup), journal_(journal), summary_(summary), phase_(phase) {}
  ~Steps() { journal_.keep_with(nullptr); }
  Steps(const Steps&) = delete;
  Steps& operator=(const Steps&) = delete;

  void begin(const Checkpointing& checkpointing) {
    keep_checkpoints(checkpointing.file);
    now_.stage = std::make_unique<SheetStage>(job_, setup_.blank, summary_.record);
    summary_.mesh.unknowns = now_.stage->model.equations.count;
    journal_.in_step(step_, job_.steps.size());
    now_.formed = solver::form(now_.stage->increments, setup_.tools->in_step(0), now_.stage->steps[0],
                               journal_, summary_.record);
  }

  void take_up(const Checkpointing& checkpointing) {
    CheckpointReader reader(checkpointing.file, terms_of(job_, setup_));
    JobProgress progress = reader.progress();
    step_ = progress.step;
    phase_.add_earlier(progress.seconds);
    summary_.record = progress.record;
    summary_.trims = std::move(progress.trims);
    summary_.mesh.unknowns = progress.unknowns;
    now_.stage = std::make_unique<SheetStage>(job_, std::move(progress.blank), summary_.record);
    solver::IncrementSolver& increments = now_.stage->increments;
    solver::PressingState pressing(increments.model(), increments.settings());
    reader.read(journal_, pressing);
    const mesh::ToolSurface& tool = setup_.tools->in_step(step_);
    journal_.take_up(
        solver::sheet_fields(increments.model(), pressing.sheet, &tool, job_.press.normal_stress),
        progress.seconds);
    keep_checkpoints(checkpointing.file);
    journal_.in_step(step_, job_.steps.size());
    now_.formed = solver::go_on(increments, std::move(pressing), tool, now_.stage->steps[step_], journal_,
                                summary_.record);
  }

  Pressed to_the_last() {
    while (step_ + 1 < job_.steps.size()) next();
    return std::move(now_);
  }

 private:
  void keep_checkpoints(const std::filesystem::path& file) {
    if (file.empty()) return;
    journal_.keep_with([this, file, terms = terms_of(job_, setup_)](const solver::PressingState& pressing) {
      JobProgress progress{step_,          phase_.seconds(),       summary_.record,
                           summary_.trims, summary_.mesh.unknowns, now_.stage->blank};
      solver::RunRecord& record = progress.record;
      record.seconds_other =
          progress.seconds - record.seconds_factor - record.seconds_solve - record.seconds_element;
      write_checkpoint(file, terms, progress, journal_, pressing);
    });
  }

  void next() {
    journal_.note(fmt::format("step {} of {}", step_ + 2, job_.steps.size()));
    solver::SheetState state =
        solver::Unloading(now_.stage->increments, now_.formed, journal_, summary_.record)
            .lower_to(kPressureBetweenSteps);
    for (const TrimLine* line : trims_after(job_, step_, TrimTime::after_release)) {
      TrimmedStage trimmed =
          trim(job_, *line, *now_.stage, state.place.positions, {&state}, summary_, journal_);
      now_.stage = std::move(trimmed.stage);
      state = std::move(trimmed.states.front());
    }
    ++step_;
    journal_.in_step(step_, job_.steps.size());
    now_.formed = solver::form_on(now_.stage->increments, state, setup_.tools->in_step(step_),
                                  now_.stage->steps[step_], journal_, summary_.record);
  }

  const Case& job_;
  const Setup& setup_;
  PressJournal& journal_;
  Summary& summary_;
  TimedPhase& phase_;
  std::size_t step_ = 0;
  Pressed now_;
};

Pressed press(const Case& job, const Setup& setup, PressJournal& journal, PressResult& result,
              const Checkpointing& checkpointing) {
  TimedPhase phase(result.summary.phases, "pressing");
  Steps steps(job, setup, journal, result.summary, phase);
  checkpointing.go_on ? steps.take_up(checkpointing) : steps.begin(checkpointing);
  Pressed now = steps.to_the_last();
  result.formed = assessed(job, now.stage->model, now.formed.state, &setup.tools->last(), journal);
  add_state(result.summary, job, *result.formed);
  add_edges_and_bends(result.summary, job, now.stage->blank, *result.formed);
  add_shares_by_kind(result.summary, job, *result.formed);
  add_folds(result.summary, job, *result.formed);
  add_tool_in_sheet(result.summary, setup.tools->last(), *result.formed);
  return now;
}

// Takes the tool away from the formed part and trims it. What has been released stands in the result before a
// line is cut, so that one that cannot be cut costs no more than the cut.
class Releasing {
 public:
  Releasing(const Case& job, Pressed pressed, PressJournal& journal, PressResult& result)
      : job_(job),
        pressed_(std::move(pressed)),
        journal_(journal),
        result_(result),
        comparisons_before_(result.summary.comparisons.size()),
        trims_before_(result.summary.trims.size()) {}

  void run() {
    const TimedPhase phase(result_.summary.phases, "release");
    solver::ReleasedPart released =
        solver::release(pressed_.stage->increments, pressed_.formed, journal_, result_.summary.record);
    tell(released.state);
    const auto early = lines(TrimTime::before_release);
    solver::SheetState& part = early.empty() ? released.state : released.unloaded;
    for (const TrimLine* line : early) cut(*line, part);
    for (const TrimLine* line : lines(TrimTime::after_release)) cut(*line, part);
  }

 private:
  [[nodiscard]] std::vector<const TrimLine*> lines(TrimTime when) const {
    return trims_after(job_, job_.steps.size() - 1, when);
  }

  // Cuts along a line that is laid on the formed part, and lets the part come to rest.
  void cut(const TrimLine& line, solver::SheetState& part) {
    Summary& summary = result_.summary;
    const std::size_t n_trims = summary.trims.size();
    try {
      const solver::SheetState start = cut_stage(line, part);
      part =
          solver::free_balance(pressed_.stage->increments, pressed_.formed, start, journal_, summary.record);
      const solver::Fit fit =
          solver::best_fit(pressed_.stage->blank, start.place.positions, part.place.positions);
      summary.trims.back().motion = fit.largest;
      tell(part);
    } catch (const solver::SolveError& error) {
      summary.trims.resize(n_trims);
      result_.line_not_cut = true;
      throw solver::SolveError(fmt::format(
          "{}\nthe released part is kept, {}", error.what(),
          n_trims > trims_before_ ? "trimmed along the lines before this one only" : "untrimmed"));
    }
  }

  // The formed part and the free one cut; the latter is not in balance.
  solver::SheetState cut_stage(const TrimLine& line, const solver::SheetState& part) {
    solver::SheetState& formed = pressed_.formed.state;
    TrimmedStage trimmed = trim(job_, line, *pressed_.stage, formed.place.positions, {&formed, &part},
                                result_.summary, journal_);
    pressed_.stage = std::move(trimmed.stage);
    formed = std::move(trimmed.states[0]);
    const solver::PressSpec& spec = pressed_.stage->steps.back();
    pressed_.formed.loading.friction_of = spec.friction_of.size() > 0 ? &spec.friction_of : nullptr;
    return std::move(trimmed.states[1]);
  }

  // The free part as it is now, in place of what was told of it before.
  void tell(const solver::SheetState& part) {
    Summary& summary = result_.summary;
    summary.flanges.clear();
    summary.comparisons.resize(comparisons_before_);
    const mesh::Blank& blank = pressed_.stage->blank;
    const solver::SheetState& formed = pressed_.formed.state;
    const solver::Fit fit = solver::best_fit(blank, formed.place.positions, part.place.positions);
    add_springback(summary, blank, formed, part, fit);
    result_.released = assessed(job_, pressed_.stage->model, part, nullptr, journal_);
    result_.released->positions = fit.positions;
    result_.released->displacement = fit.positions - blank.mesh.nodes;
    if (summary.trims.size() > trims_before_)
      result_.formed_trimmed = assessed(job_, pressed_.stage->model, formed, nullptr, journal_);
  }

  const Case& job_;
  Pressed pressed_;
  PressJournal& journal_;
  PressResult& result_;
  std::size_t comparisons_before_, trims_before_;
};

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
  refuse_blank_off_tool(job, *setup.tools);
  refuse_unmet_trims(job, *setup.tools);
  refuse_asymmetric_tools(job, *setup.tools);
  std::vector<const mesh::ToolSurface*> later;
  for (std::size_t i = 1; i < setup.tools->tools.size(); ++i) later.push_back(&setup.tools->tools[i]);
  setup.blank = mesh::make_blank(job.blank, job.blank_mesh, setup.tools->tools.front(), later);
  setup.seconds = seconds_since(start);
  return setup;
}

PressResult press_job(const Case& job, const Setup& setup, PressJournal& journal,
                      const Checkpointing& checkpointing) {
  PressResult result;
  Summary& summary = result.summary = start_summary(job, setup.blank, *setup.tools);
  summary.phases.push_back({"tool and blank", setup.seconds});
  std::vector<mesh::ToolBend> bends;
  for (const solver::FlangeEstimate& flange : summary.flange_estimates) bends.push_back(flange.bend);
  journal.follow({summary.inside_radii, job.blank.thickness, job.blank.symmetric_x, job.blank.symmetric_y},
                 solver::FoldTrace(std::move(bends)), setup.tools->last());
  try {
    Releasing(job, press(job, setup, journal, result, checkpointing), journal, result).run();
  } catch (const solver::SolveError& error) {
    summary.outcome = Outcome::not_completed;
    summary.reason = summary.reason.empty() ? error.what() : error.what() + ("; " + summary.reason);
  } catch (const solver::Stopped& stop) {
    summary.outcome = Outcome::stopped;
    summary.reason = stop.what();
  }
  keep_last_state(job, journal, result);
  if (result.formed) {
    summary.edge_waves = journal.edge_waves();
    compare_folding(summary, summary.flange_estimates, *journal.folding(), summary.reached_pressure);
    compare_filling(summary, *journal.filling(), summary.reached_pressure);
  }
  journal.finish();
  for (const std::string& note : journal.notes()) summary.warnings.push_back(note);
  add_doubts(summary, job.material);
  summary.peak_memory = peak_memory_mb();
  return result;
}

}  // namespace halftool::io
