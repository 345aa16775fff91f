#pragma once
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "io/case/case.hpp"
#include "io/cli/press_journal.hpp"
#include "io/results/summary.hpp"
#include "mesh/blank.hpp"
#include "solver/result.hpp"
#include "solver/stepping/pressing_state.hpp"

namespace halftool::io {

/// What must be the same when a pressing that was broken off is taken up again.
struct CheckpointTerms {
  std::string case_text;  ///< see print_case; threads and comments do not count
  const mesh::SurfaceMesh* blank = nullptr;
  std::vector<const mesh::SurfaceMesh*> tools;
};

/// How far a job has come, beside the pressing that is going on and what the journal follows.
struct JobProgress {
  std::size_t step = 0;  ///< that is being pressed
  double seconds = 0;    ///< wall time of the pressing so far
  solver::RunRecord record;
  std::vector<TrimRecord> trims;
  int unknowns = 0;   ///< of the whole blank
  mesh::Blank blank;  ///< as trimmed so far

  template <class Archive>
  void serialize(Archive& archive) {
    archive(step, seconds, record, trims, unknowns, blank);
  }
};

/// Writes a whole checkpoint, or leaves the last one. For this machine's kind only: numbers as they lie in
/// memory.
/// @throws WriteError
void write_checkpoint(const std::filesystem::path& file, const CheckpointTerms& terms,
                      const JobProgress& progress, const PressJournal& journal,
                      const solver::PressingState& pressing);

/// Reads a checkpoint: first the progress, which the sheet is built from, then the rest.
class CheckpointReader {
 public:
  /// @throws FolderError  no checkpoint, one of another layout, or other terms; names what differs
  CheckpointReader(const std::filesystem::path& file, const CheckpointTerms& terms);
  ~CheckpointReader();
  CheckpointReader(const CheckpointReader&) = delete;
  CheckpointReader& operator=(const CheckpointReader&) = delete;

  /// @throws FolderError  a damaged file
  [[nodiscard]] JobProgress progress();
  /// @param pressing  of the sheet that stands in the progress
  /// @throws FolderError  a damaged file
  void read(PressJournal& journal, solver::PressingState& pressing);

 private:
  struct Stream;
  template <class... Members>
  void take(Members&... members);
  std::filesystem::path file_;
  std::unique_ptr<Stream> stream_;
};

}  // namespace halftool::io
