#include "io/cli/press_journal.hpp"

#include <fmt/format.h>

#include <utility>

#include "solver/stepping/pressing_state.hpp"

namespace halftool::io {
namespace {

// What is lost at most when a machine fails; writing takes seconds.
constexpr double kSecondsBetweenCheckpoints = 600;

}  // namespace

PressJournal::PressJournal(std::ostream& out, ProgressStyle style, const mesh::Blank& blank,
                           std::optional<SeriesWriter> series, std::optional<solver::FormingLimit> limit,
                           const solver::SheetMaterial& material)
    : progress_(out, style), series_(std::move(series)), limit_(std::move(limit)), edges_(blank) {
  if (limit_) path_.emplace(material, *limit_);
}

void PressJournal::accepted(const solver::Progress& progress, const solver::SheetFields& fields) {
  solver::Progress of_job = progress;
  of_job.share_done = share_of_job(progress, step_, steps_);
  progress_.accepted(of_job, fields);
  last_phase_ = progress.phase;
  target_pressure_ = progress.target_pressure;
  if (progress.phase == solver::Phase::forming || progress.phase == solver::Phase::dwell) {
    edges_.add(fields, progress.tool);
    if (path_) path_->add(fields);
    if (filling_ && progress.tool == followed_tool_) {
      filling_->add(fields);
      folding_->add(fields);
    }
  }
  keep_last(fields);
  if (series_) series_->add(++states_, *last_);
}

void PressJournal::in_step(std::size_t step, std::size_t steps) {
  step_ = step;
  steps_ = steps;
}

void PressJournal::keep_last(const solver::SheetFields& fields) {
  last_ = fields;
  if (!limit_) return;
  last_->limit_share = solver::limit_shares(*limit_, fields);
  last_->path_share = path_->shares();
}

void PressJournal::safe_point(const solver::PressingState& state) {
  const bool due = progress_.seconds() - written_ >= kSecondsBetweenCheckpoints;
  const bool pressed =
      state.at_rest || state.sheet.pressure >= target_pressure_;  // before and after the dwell
  if (!write_ || !(due || pressed || stop_requested())) return;
  try {
    write_(state);
  } catch (const WriteError& error) {
    note(std::string("a pressing that is broken off cannot be taken up again: ") + error.what());
    write_ = nullptr;
  }
  written_ = progress_.seconds();
}

void PressJournal::take_up(const solver::SheetFields& fields, double seconds) {
  keep_last(fields);
  progress_.add_earlier(seconds);
  progress_.note(
      fmt::format("goes on from {:.4g} MPa, reached after {}", fields.pressure, duration_text(seconds)));
  written_ = progress_.seconds();
}

void PressJournal::follow(solver::FillTrace filling, solver::FoldTrace folding,
                          const mesh::ToolSurface& tool) {
  filling_ = std::move(filling);
  folding_ = std::move(folding);
  followed_tool_ = &tool;
}

void PressJournal::trimmed(const std::vector<int>& parent) {
  if (path_) path_->trim(parent);
}

void PressJournal::note(const std::string& message) {
  progress_.note(message);
  notes_.push_back(message);
}

}  // namespace halftool::io
