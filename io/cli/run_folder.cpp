#include "io/cli/run_folder.hpp"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <fstream>
#include <string_view>

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

/// The process that works in a hidden sibling; 0: it is none of this folder's.
pid_t process_at_work(const fs::path& folder, const fs::path& other) {
  const std::string start = "." + folder.filename().string() + "." + std::string(kAtWork);
  const std::string name = other.filename().string();
  if (name.rfind(start, 0) != 0) return 0;
  return static_cast<pid_t>(std::strtol(name.c_str() + start.size(), nullptr, 10));
}

/// Whether another process of this program has the number; after a restart of the machine anything may have
/// it.
bool is_running(pid_t process) {
  if (process == getpid()) return false;
  std::error_code code;
  const auto program = [&code](const std::string& of) {
    return fs::read_symlink("/proc/" + of + "/exe", code);
  };
  const fs::path own = program("self"), other = program(std::to_string(process));
  return !code && own.filename() == other.filename();
}

/// Where the last run into a folder lies that was broken off, and what still runs into it.
struct BrokenOff {
  fs::path folder;  ///< empty: none
  pid_t running = 0;
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
    const pid_t process = process_at_work(folder, entry.path());
    if (process > 0 && is_running(process))
      found.running = process;
    else if (process > 0)
      consider(entry.path());
  }
  return found;
}

}  // namespace

bool can_go_on(const fs::path& folder) {
  const BrokenOff found = find_broken_off(full_name(folder));
  return !found.folder.empty() && found.running == 0;
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
    if (found.running > 0)
      throw FolderError("a run into " + folder_.string() + " is going on (process " +
                        std::to_string(found.running) + "); wait for its end or stop it");
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
}

RunFolder::~RunFolder() {
  if (kept_) return;
  std::error_code code;
  if (!origin_.empty())
    fs::rename(work_, origin_, code);
  else if (!fs::exists(checkpoint(), code))
    fs::remove_all(work_, code);
}

void RunFolder::keep() {
  std::error_code code;
  fs::remove(checkpoint(), code);
  fs::remove(work_ / marks[1], code);
  take_name();
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
  require_free(folder_, replace_);
  std::error_code code;
  const auto old = sibling(folder_, "old-");
  const bool had_old = fs::exists(folder_);
  if (had_old) fs::rename(folder_, old, code);
  if (!code) fs::rename(work_, folder_, code);
  if (code) {
    if (had_old && !fs::exists(folder_)) fs::rename(old, folder_, code);
    kept_ = true;  // rather leave the results under the hidden name than lose them
    throw FolderError("the results cannot be moved to " + folder_.string() + "; they lie in " +
                      work_.string());
  }
  kept_ = true;
  if (had_old) fs::remove_all(old, code);
}

}  // namespace halftool::io
