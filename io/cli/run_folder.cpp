#include "io/cli/run_folder.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <fstream>
#include <string_view>

#include "io/results/write_file.hpp"

namespace halftool::io {
namespace {

namespace fs = std::filesystem;

/// A file that every run writes: a folder without it is somebody's own and is never removed.
constexpr std::array<std::string_view, 2> marks{"summary.json", "NOT-COMPLETE.txt"};

constexpr std::string_view kAtWork = "part-";

void require_free(const fs::path& folder, bool replace) {
  std::error_code code;
  const auto status = fs::symlink_status(folder, code);
  if (!fs::exists(status)) return;
  if (!fs::is_directory(status))
    throw FolderError(folder.string() + " exists and is no folder; name another one with --out");
  if (fs::is_empty(folder, code)) return;
  if (code) throw FolderError(folder.string() + " cannot be looked into: " + code.message());
  if (!replace)
    throw FolderError(folder.string() + " holds results already; add --replace to replace them, " +
                      (fs::exists(folder / kCheckpointName) ? "--resume to go on with them, " : "") +
                      "or name another folder with --out");
  const bool ours =
      std::any_of(marks.begin(), marks.end(), [&](auto mark) { return fs::exists(folder / mark); });
  if (!ours)
    throw FolderError(folder.string() +
                      " holds files, but no results of a run; --replace does not remove it");
}

fs::path sibling(const fs::path& folder, std::string_view what) {
  return folder.parent_path() /
         ("." + folder.filename().string() + "." + std::string(what) + std::to_string(getpid()));
}

/// Whether a folder is a hidden sibling that a run works in.
bool is_at_work(const fs::path& folder, const fs::path& other) {
  return other.filename().string().rfind("." + folder.filename().string() + "." + std::string(kAtWork), 0) ==
         0;
}

/// The folder, locked; below 0: not there, or somebody else has the lock. The system takes the lock back when
/// its process ends, in whatever way. Where the file system knows no locks, none is taken.
int locked(const fs::path& folder) {
  const int descriptor = open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0 || flock(descriptor, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return descriptor;
  close(descriptor);
  return -1;
}

bool is_running(const fs::path& folder) {
  const int lock = locked(folder);
  if (lock >= 0) close(lock);
  return lock < 0;
}

/// Where the last run into a folder lies that was broken off, and what still runs into it.
struct BrokenOff {
  fs::path folder;          ///< empty: none
  bool is_running = false;  ///< another one still is
};

BrokenOff find_broken_off(const fs::path& folder) {
  BrokenOff found;
  fs::file_time_type newest{};
  const auto consider = [&](const fs::path& candidate) {
    std::error_code code;
    const auto time = fs::last_write_time(candidate / kCheckpointName, code);
    if (code || (!found.folder.empty() && time <= newest)) return;
    newest = time;
    found.folder = candidate;
  };
  consider(folder);
  std::error_code code;
  for (const auto& entry : fs::directory_iterator(folder.parent_path(), code)) {
    if (!is_at_work(folder, entry.path())) continue;
    if (is_running(entry.path()))
      found.is_running = true;
    else
      consider(entry.path());
  }
  return found;
}

}  // namespace

bool can_go_on(const fs::path& folder) {
  const BrokenOff found = find_broken_off(full_name(folder));
  return !found.folder.empty() && !found.is_running;
}

fs::path default_run_folder(const fs::path& case_file) {
  return fs::current_path() / (case_file.stem().string() + ".halftool-run");
}

fs::path full_name(const fs::path& folder) {
  const fs::path full = fs::absolute(folder).lexically_normal();
  return full.filename().empty() ? full.parent_path() : full;  // "results/"
}

void require_run_folder(const fs::path& folder, bool replace) {
  require_free(full_name(folder), replace);
}

RunFolder::RunFolder(const fs::path& folder, FolderUse use) : replace_(use.replace) {
  folder_ = full_name(folder);
  work_ = sibling(folder_, kAtWork);
  if (use.go_on) {
    const BrokenOff found = find_broken_off(folder_);
    if (found.is_running)
      throw FolderError(
          "a run into " + folder_.string() +
          " is going on; wait for its end or stop it (its files: " + sibling(folder_, "").string() + "*)");
    if (found.folder.empty())
      throw FolderError("there is no run into " + folder_.string() +
                        " to go on with; press without --resume, or name its folder with --out");
    origin_ = found.folder;
  }
  if (origin_ != folder_) require_free(folder_, replace_);
  std::error_code code;
  fs::create_directories(folder_.parent_path(), code);
  if (!code && origin_ != work_) fs::remove_all(work_, code);
  if (!code && origin_.empty()) fs::create_directory(work_, code);
  if (!code && !origin_.empty()) fs::rename(origin_, work_, code);
  if (code) throw FolderError("no folder can be made beside " + folder_.string() + ": " + code.message());
  lock_ = locked(work_);
}

RunFolder::~RunFolder() {
  if (lock_ >= 0) close(lock_);
  if (kept_) return;
  std::error_code code;
  if (!origin_.empty())
    fs::rename(work_, origin_, code);
  else if (!fs::exists(checkpoint(), code))
    fs::remove_all(work_, code);
}

void RunFolder::keep() {
  take_name();
  std::error_code code;
  fs::remove(folder_ / kCheckpointName, code);
  fs::remove(folder_ / marks[1], code);
}

void RunFolder::keep_incomplete(const std::string& reason, bool goes_on) {
  std::error_code code;
  if (!goes_on) fs::remove(checkpoint(), code);
  std::ofstream note(work_ / marks[1]);
  note << "This run did not come to its end. What was reached is kept here.\n\n" << reason << '\n';
  if (fs::exists(checkpoint(), code)) note << "\nPressed again with --resume, it goes on from here.\n";
  note.close();
  take_name();
}

void RunFolder::take_name() {
  kept_ = true;  // rather leave the results under the hidden name than lose them
  std::error_code code;
  const auto old = sibling(folder_, "old-");
  bool had_old = false;
  try {
    require_free(folder_, replace_);
    had_old = fs::exists(folder_);
    if (had_old) fs::rename(folder_, old);
    fs::rename(work_, folder_);
  } catch (const std::exception& error) {
    if (had_old && !fs::exists(folder_)) fs::rename(old, folder_, code);
    throw WriteError(folder_,
                     std::string(error.what()) + "; the results of this run lie in " + work_.string());
  }
  if (had_old) fs::remove_all(old, code);
}

}  // namespace halftool::io
