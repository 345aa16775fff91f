#pragma once
#include <string>
#include <vector>

#include "solver/monitor.hpp"

namespace halftool::test {

/// A monitor that keeps what the solver notes and never stops it.
class NoteKeeper : public solver::Monitor {
 public:
  void accepted(const solver::Progress&, const solver::SheetFields&) override {}
  void note(const std::string& message) override { notes.push_back(message); }
  [[nodiscard]] bool stop_requested() const override { return false; }
  std::vector<std::string> notes;
};

}  // namespace halftool::test
