#pragma once

namespace halftool::io {

/// What the program ends with. The only place where the numbers stand.
enum class ExitCode {
  done = 0,           ///< done, no limit passed
  limit_passed = 1,   ///< done, a limit passed
  input_wrong = 2,    ///< input wrong, nothing run
  not_completed = 3,  ///< the computation could not be completed; what was reached is kept
  stopped = 4,        ///< stopped by the user; what was reached is kept
  our_fault = 5,      ///< a fault of the program
};

constexpr int as_int(ExitCode code) {
  return static_cast<int>(code);
}

}  // namespace halftool::io
