#pragma once
#include <functional>
#include <iosfwd>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "io/cli/progress.hpp"
#include "io/results/series_writer.hpp"
#include "mesh/blank.hpp"
#include "solver/assessment/edge_waves.hpp"
#include "solver/assessment/fill_trace.hpp"
#include "solver/assessment/fold_trace.hpp"
#include "solver/assessment/forming_limit.hpp"
#include "solver/assessment/strain_path.hpp"

namespace halftool::io {

/// Follows a pressing: shows progress, writes each accepted state into the series, and remembers the last
/// one, so that nothing reached is lost if the computation breaks off.
class PressJournal : public solver::Monitor {
 public:
  /// @param blank   must outlive the journal
  /// @param series  none: no series is written
  /// @param limit   none: the share of the forming limit stays zero
  /// @param material  whose yield condition the strain path is followed with
  PressJournal(std::ostream& out, ProgressStyle style, const mesh::Blank& blank,
               std::optional<SeriesWriter> series, std::optional<solver::FormingLimit> limit,
               const solver::SheetMaterial& material);

  void accepted(const solver::Progress& progress, const solver::SheetFields& fields) override;
  void note(const std::string& message) override;
  [[nodiscard]] bool stop_requested() const override { return progress_.stop_requested(); }

  void safe_point(const solver::PressingState& state) override;

  /// Which of the steps of the job is pressed from now on, from 0; one of one to begin with.
  void in_step(std::size_t step, std::size_t steps);

  /// Hands on safe points: one every few minutes, when the user stops the pressing, before and after a dwell.
  /// @param write  throws WriteError; it is noted once, for the pressing goes on
  void keep_with(std::function<void(const solver::PressingState&)> write) { write_ = std::move(write); }
  /// A pressing that was broken off goes on; what was followed has been read.
  /// @param fields   of the state in which it stands
  /// @param seconds  that it took so far
  void take_up(const solver::SheetFields& fields, double seconds);

  /// Follows how the sheet fills the inside radii of a tool half and folds over its bends while it lies on
  /// it.
  void follow(solver::FillTrace filling, solver::FoldTrace folding, const mesh::ToolSurface& tool);
  /// None if none is followed.
  [[nodiscard]] const std::optional<solver::FillTrace>& filling() const { return filling_; }
  [[nodiscard]] const std::optional<solver::FoldTrace>& folding() const { return folding_; }

  /// The sheet was cut; see StrainPath.
  void trimmed(const std::vector<int>& parent);
  /// (n_triangles) share of the forming limit along the path of the strain; empty: not judged.
  [[nodiscard]] Eigen::VectorXd path_shares() const { return path_ ? path_->shares() : Eigen::VectorXd(); }

  /// Of what it follows; made for the same job.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(edges_, notes_, states_);
    if (path_) archive(*path_);
    if (filling_) archive(*filling_, *folding_);
    if (series_) archive(*series_);
  }

  /// Ends the live progress line.
  void finish() { progress_.finish(); }
  /// The last accepted state, if any.
  [[nodiscard]] const std::optional<solver::SheetFields>& last() const { return last_; }
  /// Waves of the flange edges up to the last state under rising or full pressure.
  [[nodiscard]] solver::EdgeWaveHistory edge_waves() const { return edges_.history(); }
  [[nodiscard]] solver::Phase last_phase() const { return last_phase_; }
  [[nodiscard]] const std::vector<std::string>& notes() const { return notes_; }

 private:
  void keep_last(const solver::SheetFields& fields);

  ProgressMonitor progress_;
  std::optional<SeriesWriter> series_;
  std::optional<solver::FormingLimit> limit_;
  std::optional<solver::StrainPath> path_;  ///< none without a limit
  solver::EdgeTrace edges_;
  std::optional<solver::FillTrace> filling_;
  std::optional<solver::FoldTrace> folding_;  ///< with the filling
  const mesh::ToolSurface* followed_tool_ = nullptr;
  std::optional<solver::SheetFields> last_;
  solver::Phase last_phase_ = solver::Phase::forming;
  std::vector<std::string> notes_;
  int states_ = 0;
  std::size_t step_ = 0;
  std::size_t steps_ = 1;
  double target_pressure_ = 0;                               ///< of the step [MPa]
  std::function<void(const solver::PressingState&)> write_;  ///< empty: none are kept
  double written_ = 0;  ///< when the last was, on the clock of the progress [s]
};

}  // namespace halftool::io
