#include "io/cli/run.hpp"

#include <exception>
#include <iostream>

#include "io/cli/check.hpp"
#include "io/cli/exit_code.hpp"
#include "io/cli/job_summary.hpp"
#include "io/cli/press_job.hpp"
#include "io/cli/run_folder.hpp"
#include "io/cli/setup_checks.hpp"
#include "io/figures/figures.hpp"
#include "io/results/results.hpp"

namespace halftool::io {
namespace {

PressJournal make_journal(const Case& job, const PressOptions& options, const RunFolder& folder,
                          const mesh::Blank& blank) {
  std::optional<SeriesWriter> series;
  if (job.outputs.series) series.emplace(folder.work(), "pressing");
  return {std::cerr,   progress_style(options.quiet), blank, std::move(series), forming_limit(job),
          job.material};
}

// Pictures of what was reached; what cannot be drawn is said, never fatal to the results.
void draw(const Case& job, const Setup& setup, const PressResult& result, const RunFolder& folder) {
  FigureInput input;
  input.title = job.title;
  input.credential = result.summary.credential;
  input.formed = &*result.formed;
  input.released = result.released ? &*result.released : nullptr;
  input.formed_trimmed = result.formed_trimmed ? &*result.formed_trimmed : nullptr;
  input.tool = &setup.tools->last().mesh();
  input.symmetric_x = job.blank.symmetric_x;
  input.symmetric_y = job.blank.symmetric_y;
  input.flanges = result.summary.flanges;
  if (const auto limit = forming_limit(job)) input.limit = sample_limit(*limit, limit_title(job));
  try {
    for (const std::string& note : draw_figures(folder.work(), input).notes) std::cerr << note << '\n';
  } catch (const std::exception& error) {
    std::cerr << "pictures left out: " << error.what() << '\n';
  }
}

void keep(RunFolder& folder, const PressResult& result) {
  const Summary& summary = result.summary;
  if (summary.outcome == Outcome::done || summary.outcome == Outcome::limit_passed)
    folder.keep();
  else
    folder.keep_incomplete(summary.reason, summary.outcome == Outcome::stopped || result.line_not_cut);
}

}  // namespace

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

Summary press_case(Case job, std::shared_ptr<const ToolSet> tools, const PressOptions& options) {
  complete_limit(job);
  RunFolder folder(options.folder, {.replace = options.replace, .go_on = options.go_on});

  // 1. The tool half and the blank laid on it.
  const bool alone = tools == nullptr;  // doubts of many runs are left to their summaries
  const Setup setup = tools ? make_setup(job, std::move(tools)) : make_setup(job);
  std::vector<CaseWarning> doubts = setup_doubts(job, *setup.tools);
  for (CaseWarning& doubt : zone_doubts(job, setup.blank)) doubts.push_back(std::move(doubt));
  if (alone) {
    print_warnings(tool_doubts(job, *setup.tools));
    print_warnings(doubts);
  }
  job.warnings.insert(job.warnings.end(), doubts.begin(), doubts.end());

  // 2. Press to full pressure, release, take the tool away.
  PressJournal journal = make_journal(job, options, folder, setup.blank);
  PressResult result =
      press_job(job, setup, journal,
                {.file = alone ? folder.checkpoint() : std::filesystem::path(), .go_on = options.go_on});

  // 3. Write what was reached.
  ResultInput results;
  results.tool = &setup.tools->last().mesh();
  results.summary = &result.summary;
  if (result.formed) results.formed = &*result.formed;
  if (result.released) results.released = &*result.released;
  if (result.formed_trimmed) results.formed_trimmed = &*result.formed_trimmed;
  write_results(folder.work(), results);
  if (job.outputs.pictures && result.formed) draw(job, setup, result, folder);
  keep(folder, result);
  return std::move(result.summary);
}

int run_press(const Case& job, const PressOptions& options) {
  print_warnings(job.warnings);
  const bool was_left = can_go_on(options.folder);
  if (was_left && !options.go_on)
    std::cerr << "a run into " << full_name(options.folder).string()
              << " was broken off; --resume would go on with it\n";
  Summary summary;
  try {
    summary = press_case(job, nullptr, options);
  } catch (const FolderError&) {
    throw;  // it says itself what to do
  } catch (const std::exception&) {
    const bool is_ours = options.go_on || !was_left;
    if (is_ours && can_go_on(options.folder))
      std::cerr << "what was pressed is kept; --resume goes on with it\n";
    throw;
  }
  if (!options.quiet) {
    print_summary(std::cout, summary);
    std::cout << "\nresults in " << full_name(options.folder).string() << '\n';
  }
  if (summary.outcome == Outcome::not_completed) {
    std::cerr << summary.reason << '\n';
    if (can_go_on(options.folder))
      std::cerr << "with another trim line, --resume goes on from the full pressure\n";
  }
  return as_int(exit_code(summary.outcome));
}

}  // namespace halftool::io
