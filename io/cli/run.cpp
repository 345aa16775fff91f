#include "io/cli/run.hpp"

#include <chrono>
#include <iostream>

#include "io/cli/check.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/press_journal.hpp"
#include "io/cli/run_folder.hpp"
#include "io/results/results.hpp"
#include "solver/assembly/sheet_fields.hpp"
#include "solver/springback/release.hpp"

namespace halftool::io {
namespace {

// Wall-clock seconds of the phases of a job.
class Stopwatch {
 public:
  explicit Stopwatch(std::vector<PhaseTime>& phases) : phases_(phases) {}
  void lap(const std::string& name) {
    const auto now = Clock::now();
    phases_.push_back({name, std::chrono::duration<double>(now - last_).count()});
    last_ = now;
  }

 private:
  using Clock = std::chrono::steady_clock;
  std::vector<PhaseTime>& phases_;
  Clock::time_point last_ = Clock::now();
};

PressJournal make_journal(const Case& job, const PressOptions& options, const RunFolder& folder,
                          const mesh::Blank& blank) {
  std::optional<SeriesWriter> series;
  if (job.outputs.series) series.emplace(folder.work(), "pressing", blank.mesh.triangles);
  return {std::cerr, progress_style(options.quiet), std::move(series), forming_limit(job)};
}

solver::SheetFields assessed(const Case& job, const solver::SheetModel& model,
                             const solver::SheetState& state, const mesh::ToolSurface* tool) {
  solver::SheetFields fields = solver::sheet_fields(model, state, tool, job.press.normal_stress);
  if (const auto limit = forming_limit(job)) fields.limit_share = solver::limit_shares(*limit, fields);
  return fields;
}

ExitCode exit_code(Outcome outcome) {
  switch (outcome) {
    case Outcome::done:
      return ExitCode::done;
    case Outcome::limit_passed:
      return ExitCode::limit_passed;
    case Outcome::stopped:
      return ExitCode::stopped;
    case Outcome::not_completed:
      break;
  }
  return ExitCode::not_completed;
}

// What the computation reached, whole or in part.
struct Reached {
  std::optional<solver::SheetFields> formed;
  std::optional<solver::SheetFields> released;  // best-fitted to the formed part
};

// Presses, releases and fits; what breaks it off becomes the outcome of the summary.
Reached compute(const Case& job, const mesh::ToolSurface& tool, const mesh::Blank& blank,
                PressJournal& journal, Summary& summary, Stopwatch& watch) {
  Reached reached;
  const solver::SheetModel model =
      solver::make_model(blank, job.material, job.settings.layers, job.settings.enriched_membrane);
  summary.mesh.unknowns = model.equations.count;
  try {
    solver::IncrementSolver increments(model, job.settings, summary.record);
    const solver::FormedPart formed = solver::form(increments, tool, job.press, journal, summary.record);
    reached.formed = assessed(job, model, formed.state, &tool);
    add_state(summary, job, blank, *reached.formed);
    watch.lap("pressing");
    const solver::ReleasedPart released = solver::release(increments, formed, journal, summary.record);
    reached.released = assessed(job, model, released.state, nullptr);
    const solver::Fit fit =
        solver::best_fit(blank, formed.state.place.positions, released.state.place.positions);
    add_springback(summary, blank, formed.state.place.positions, released.state.place.positions, fit);
    reached.released->positions = fit.positions;
    reached.released->displacement = fit.positions - blank.mesh.nodes;
    watch.lap("release");
  } catch (const solver::SolveError& error) {
    summary.outcome = Outcome::not_completed;
    summary.reason = error.what();
  } catch (const solver::Stopped& stop) {
    summary.outcome = Outcome::stopped;
    summary.reason = stop.what();
  }
  if (!reached.formed && journal.last()) {
    reached.formed = journal.last();
    const Outcome outcome = summary.outcome;
    add_state(summary, job, blank, *reached.formed);
    summary.outcome = outcome;  // a limit passed on the way does not outweigh breaking off
  }
  return reached;
}

void keep(RunFolder& folder, const Summary& summary) {
  if (summary.outcome == Outcome::done || summary.outcome == Outcome::limit_passed)
    folder.keep();
  else
    folder.keep_incomplete(summary.reason);
}

}  // namespace

int run_press(const Case& job, const PressOptions& options) {
  print_warnings(job);
  RunFolder folder(options.folder, options.replace);
  std::vector<PhaseTime> phases;
  Stopwatch watch(phases);

  // 1. The tool half and the blank laid on it.
  const mesh::ToolSurface tool = mesh::make_tool(job.tool);
  const mesh::Blank blank = mesh::make_blank(job.blank, job.blank_mesh, tool);
  Summary summary = start_summary(job, blank, tool);
  watch.lap("tool and blank");

  // 2. Press to full pressure, release, take the tool away.
  PressJournal journal = make_journal(job, options, folder, blank);
  const Reached reached = compute(job, tool, blank, journal, summary, watch);
  journal.finish();
  for (const std::string& note : journal.notes()) summary.warnings.push_back(note);

  // 3. Write what was reached.
  summary.phases = phases;
  summary.peak_memory = peak_memory_mb();
  ResultInput results{&blank.mesh.triangles, nullptr, nullptr, &tool.mesh(), &summary};
  if (reached.formed) results.formed = &*reached.formed;
  if (reached.released) results.released = &*reached.released;
  write_results(folder.work(), results);
  keep(folder, summary);
  if (!options.quiet) {
    print_summary(std::cout, summary);
    std::cout << "\nresults in " << folder.final_name().string() << '\n';
  }
  if (summary.outcome == Outcome::not_completed) std::cerr << summary.reason << '\n';
  return as_int(exit_code(summary.outcome));
}

}  // namespace halftool::io
