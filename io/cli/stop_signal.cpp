#include "io/cli/stop_signal.hpp"

namespace halftool::io {
namespace {

// A signal handler reaches nothing but an object of static storage.
volatile std::sig_atomic_t stop_flag = 0;

void ask_to_stop(int) {
  stop_flag = 1;
}

}  // namespace

StopSignal::StopSignal() {
  stop_flag = 0;
  struct sigaction action {};
  action.sa_handler = ask_to_stop;
  action.sa_flags = static_cast<int>(SA_RESETHAND | SA_RESTART);  // the second one ends the program
  sigemptyset(&action.sa_mask);
  sigaction(SIGINT, &action, &old_interrupt_);
  sigaction(SIGTERM, &action, &old_terminate_);
}

StopSignal::~StopSignal() {
  sigaction(SIGINT, &old_interrupt_, nullptr);
  sigaction(SIGTERM, &old_terminate_, nullptr);
}

bool StopSignal::requested() const {
  return stop_flag != 0;
}

}  // namespace halftool::io
