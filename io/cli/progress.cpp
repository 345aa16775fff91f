#include "io/cli/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cmath>
#include <ostream>

namespace halftool::io {
namespace {

constexpr double live_interval = 0.2;      // s; a faster line cannot be read
constexpr double plain_interval = 5.0;     // s
constexpr double least_share = 0.01;       // of the work, before which a time left would be guesswork
constexpr double share_of_release = 0.12;  // of the time of a job, as measured (DEVELOPERS.md)

double steady_seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

const char* phase_name(solver::Phase phase) {
  switch (phase) {
    case solver::Phase::forming:
      return "pressing";
    case solver::Phase::dwell:
      return "dwell";
    case solver::Phase::release:
      return "release";
    case solver::Phase::free:
      return "springback";
  }
  return "";
}

}  // namespace

ProgressStyle progress_style(bool quiet) {
  if (quiet) return ProgressStyle::silent;
  return isatty(STDERR_FILENO) != 0 ? ProgressStyle::live : ProgressStyle::plain;
}

std::string duration_text(double seconds) {
  const auto s = std::lround(seconds);
  if (s < 60) return fmt::format("{} s", s);
  if (s < 3600) return fmt::format("{} min {:02} s", s / 60, s % 60);
  return fmt::format("{} h {:02} min", s / 3600, s % 3600 / 60);
}

std::string progress_line(const solver::Progress& progress, double seconds) {
  auto line = fmt::format(
      "{:<10} {:6.2f} of {:.4g} MPa, {} increments, {} iterations, worst thinning {:.1f} %, {}",
      phase_name(progress.phase), progress.pressure, progress.target_pressure, progress.increments,
      progress.iterations, 100 * progress.worst_thinning, duration_text(seconds));
  if (progress.share_done > least_share && progress.share_done < 1)
    line += fmt::format(", about {} left", duration_text(seconds * (1 / progress.share_done - 1)));
  return line;
}

double share_of_job(const solver::Progress& progress, std::size_t step, std::size_t steps) {
  const bool pressing = progress.phase == solver::Phase::forming || progress.phase == solver::Phase::dwell;
  const bool last = step + 1 == steps;
  if (last && !pressing) return 1 - share_of_release * (1 - progress.share_done);
  const double of_step = pressing ? progress.share_done : 1;
  return (1 - share_of_release) * (static_cast<double>(step) + of_step) / static_cast<double>(steps);
}

ProgressMonitor::ProgressMonitor(std::ostream& out, ProgressStyle style, std::function<double()> clock)
    : out_(out), style_(style), clock_(clock ? std::move(clock) : steady_seconds), start_(clock_()) {}

ProgressMonitor::~ProgressMonitor() {
  finish();
}

void ProgressMonitor::accepted(const solver::Progress& progress, const solver::SheetFields&) {
  if (style_ == ProgressStyle::silent) return;
  const double now = clock_();
  const bool turn = progress.phase != phase_;
  phase_ = progress.phase;
  const double interval = style_ == ProgressStyle::live ? live_interval : plain_interval;
  if (!turn && now - printed_ < interval) return;
  printed_ = now;
  const auto line = progress_line(progress, now - start_);
  if (style_ == ProgressStyle::live) {
    out_ << '\r' << line << "\033[K" << std::flush;  // clears what a longer line left
    line_open_ = true;
  } else {
    out_ << line << std::endl;
  }
}

void ProgressMonitor::note(const std::string& message) {
  if (style_ == ProgressStyle::silent) return;
  if (line_open_) out_ << "\r\033[K";
  line_open_ = false;
  printed_ = -1e9;  // the live line comes back with the next increment
  out_ << message << std::endl;
}

void ProgressMonitor::finish() {
  if (line_open_) out_ << std::endl;
  line_open_ = false;
}

}  // namespace halftool::io
