#pragma once
#include <string>

#include "mesh/tool_surface.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

struct PressingState;

enum class Phase { forming, dwell, release, free };

/// Where the computation stands after an accepted increment.
struct Progress {
  Phase phase = Phase::forming;
  double pressure = 0;         ///< [MPa]
  double target_pressure = 0;  ///< of this step [MPa]
  int increments = 0;
  int iterations = 0;
  double worst_thinning = 0;
  double share_done = 0;  ///< of this step's pressing or of the release: an estimate, 0 to 1
  const mesh::ToolSurface* tool = nullptr;  ///< that the sheet lies on; none once it is taken away
};

/// Listens to the computation. The solver calls it after each accepted increment and never prints.
class Monitor {
 public:
  virtual ~Monitor() = default;
  /// @param fields  of the accepted state; valid during the call
  virtual void accepted(const Progress& progress, const SheetFields& fields) = 0;
  /// The pressing can be taken up again from here, see go_on: after each increment under rising pressure,
  /// when it stops, and after the dwell.
  virtual void safe_point(const PressingState&) {}
  /// Something the user should know (a negative pivot, a cut, a switch of control).
  virtual void note(const std::string& message) = 0;
  /// True asks the solver to stop after the current increment.
  [[nodiscard]] virtual bool stop_requested() const = 0;
};

}  // namespace halftool::solver
