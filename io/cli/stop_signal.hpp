#pragma once
#include <csignal>

namespace halftool::io {

/// While it lives, SIGINT and SIGTERM ask for a stop instead of ending the program; a second SIGINT ends it.
/// One at a time.
class StopSignal {
 public:
  StopSignal();
  ~StopSignal();
  StopSignal(const StopSignal&) = delete;
  StopSignal& operator=(const StopSignal&) = delete;

  [[nodiscard]] bool requested() const;

 private:
  struct sigaction old_interrupt_ {};
  struct sigaction old_terminate_ {};
};

}  // namespace halftool::io
