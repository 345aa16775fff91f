#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>

namespace halftool::io {

/// The result folder cannot be used; nothing was touched. The message names the mend.
struct FolderError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// The folder that a case's results go to where none is named: "<stem of the case file>.halftool-run" in the
/// current directory.
std::filesystem::path default_run_folder(const std::filesystem::path& case_file);

/// A folder's absolute name, without a slash at its end.
std::filesystem::path full_name(const std::filesystem::path& folder);

/// The file in a run's folder that a pressing which was broken off is taken up from.
inline constexpr const char* kCheckpointName = "pressing.checkpoint";

/// How a run uses its folder.
struct FolderUse {
  bool replace = false;  ///< existing results may be replaced; else it must be free
  bool go_on = false;    ///< a run that was broken off is taken up again
};

/// Whether there is a run into this folder that was broken off and can be taken up again: one that the user
/// stopped, or one that ended without a word.
bool can_go_on(const std::filesystem::path& folder);

/// Whether a run may write into a folder, before anything is made.
/// @throws FolderError  as RunFolder does
void require_run_folder(const std::filesystem::path& folder, bool replace);

/// The result folder of one run. Everything is written into a hidden sibling; only keep() gives it the final
/// name. So a folder under the final name always holds a run that has ended, one way or another, and an old
/// one is untouched until the new one is complete. A run that failed half way is kept as well, with a note
/// that says so. If neither keep is called (input wrong after all, our own fault), the sibling is removed and
/// the final name stays as it was; with a checkpoint in it, it stays where the next run finds it.
class RunFolder {
 public:
  /// @param folder   final name
  /// @throws FolderError  it exists, holds something and may not be replaced; it is no folder; it holds a
  ///                      file that is not a result of ours; its parent cannot be written; there is nothing
  ///                      to go on from, or that run is still going on
  RunFolder(const std::filesystem::path& folder, FolderUse use);
  ~RunFolder();
  RunFolder(const RunFolder&) = delete;
  RunFolder& operator=(const RunFolder&) = delete;

  /// Where to write.
  [[nodiscard]] const std::filesystem::path& work() const { return work_; }
  /// Where the results will be.
  [[nodiscard]] const std::filesystem::path& final_name() const { return folder_; }

  /// The run is complete: gives the folder its final name.
  /// @throws WriteError  somebody else made the final name meanwhile, or the disk refuses; says where the
  /// results
  ///                     lie
  void keep();
  /// The run ended early: the same, with NOT-COMPLETE.txt that holds the reason.
  /// @param goes_on  the checkpoint stays, if there is one
  void keep_incomplete(const std::string& reason, bool goes_on);

  [[nodiscard]] std::filesystem::path checkpoint() const { return work_ / kCheckpointName; }

 private:
  void take_name();

  std::filesystem::path folder_;
  std::filesystem::path work_;
  std::filesystem::path origin_;  ///< where the files of a run that goes on lay; empty: a new run
  bool replace_;
  bool kept_ = false;
  int lock_ = -1;  ///< descriptor of the folder at work, locked as long as the run goes on
};

}  // namespace halftool::io
