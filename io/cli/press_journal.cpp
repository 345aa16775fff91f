#include "io/cli/press_journal.hpp"

#include <utility>

namespace halftool::io {

PressJournal::PressJournal(std::ostream& out, ProgressStyle style, const mesh::Blank& blank,
                           std::optional<SeriesWriter> series, std::optional<solver::FormingLimit> limit)
    : progress_(out, style), series_(std::move(series)), limit_(limit), edges_(blank) {}

void PressJournal::accepted(const solver::Progress& progress, const solver::SheetFields& fields) {
  progress_.accepted(progress, fields);
  last_ = fields;
  last_phase_ = progress.phase;
  if (progress.phase == solver::Phase::forming || progress.phase == solver::Phase::dwell)
    edges_.add(fields, progress.tool);
  if (limit_) last_->limit_share = solver::limit_shares(*limit_, fields);
  if (series_) series_->add(++states_, *last_);
}

void PressJournal::note(const std::string& message) {
  progress_.note(message);
  notes_.push_back(message);
}

}  // namespace halftool::io
