#pragma once
#include <functional>
#include <iosfwd>
#include <string>

#include "io/cli/stop_signal.hpp"
#include "solver/monitor.hpp"

namespace halftool::io {

enum class ProgressStyle {
  live,    ///< one line that is rewritten, for a terminal
  plain,   ///< a line every few seconds, for a file or a pipe
  silent,  ///< nothing
};

/// The style for the standard error stream: live on a terminal, plain elsewhere, silent when asked for.
ProgressStyle progress_style(bool quiet);

/// One line on where the computation stands.
/// @param seconds  used so far
std::string progress_line(const solver::Progress& progress, double seconds);

/// The share of a job's work that is done: its steps as one like another, then the release.
/// @param step  from 0
double share_of_job(const solver::Progress& progress, std::size_t step, std::size_t steps);

/// "42 s", "3 min 05 s", "2 h 10 min"
std::string duration_text(double seconds);

/// Prints the progress of a computation and lets the user stop it (SIGINT, SIGTERM).
class ProgressMonitor : public solver::Monitor {
 public:
  /// @param clock  seconds since any fixed moment; the steady clock if empty
  ProgressMonitor(std::ostream& out, ProgressStyle style, std::function<double()> clock = {});
  ~ProgressMonitor() override;
  ProgressMonitor(const ProgressMonitor&) = delete;
  ProgressMonitor& operator=(const ProgressMonitor&) = delete;

  void accepted(const solver::Progress& progress, const solver::SheetFields& fields) override;
  void note(const std::string& message) override;
  [[nodiscard]] bool stop_requested() const override { return stop_.requested(); }
  /// Ends the live line, so that what is printed next starts on its own.
  void finish();
  /// Counts time that went into the computation before the monitor was made.
  void add_earlier(double seconds) { start_ -= seconds; }
  /// Seconds since the monitor was made, and earlier ones.
  [[nodiscard]] double seconds() const { return clock_() - start_; }

 private:
  std::ostream& out_;
  ProgressStyle style_;
  std::function<double()> clock_;
  double start_;
  double printed_ = -1e9;  ///< time of the last line
  solver::Phase phase_ = solver::Phase::forming;
  bool line_open_ = false;
  StopSignal stop_;
};

}  // namespace halftool::io
