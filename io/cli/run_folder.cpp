#include "io/cli/run_folder.hpp"

#include <unistd.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <string_view>

namespace halftool::io {
namespace {

namespace fs = std::filesystem;

/// A file that every run writes: a folder without it is somebody's own and is never removed.
constexpr std::array<std::string_view, 2> marks{"summary.json", "NOT-COMPLETE.txt"};

void require_free(const fs::path& folder, bool replace) {
  std::error_code code;
  const auto status = fs::symlink_status(folder, code);
  if (!fs::exists(status)) return;
  if (!fs::is_directory(status))
    throw FolderError(folder.string() + " exists and is no folder; name another one with --out");
  if (fs::is_empty(folder, code)) return;
  if (code) throw FolderError(folder.string() + " cannot be looked into: " + code.message());
  if (!replace)
    throw FolderError(
        folder.string() +
        " holds results already; add --replace to replace them, or name another folder with --out");
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

}  // namespace

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

RunFolder::RunFolder(const fs::path& folder, bool replace) : replace_(replace) {
  folder_ = full_name(folder);
  require_free(folder_, replace_);
  work_ = sibling(folder_, "part-");
  std::error_code code;
  fs::create_directories(folder_.parent_path(), code);
  if (!code) fs::remove_all(work_, code);
  if (!code) fs::create_directory(work_, code);
  if (code) throw FolderError("no folder can be made beside " + folder_.string() + ": " + code.message());
}

RunFolder::~RunFolder() {
  std::error_code code;
  if (!kept_) fs::remove_all(work_, code);
}

void RunFolder::keep() {
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

void RunFolder::keep_incomplete(const std::string& reason) {
  std::ofstream(work_ / "NOT-COMPLETE.txt")
      << "This run did not come to its end. What was reached is kept here.\n\n"
      << reason << '\n';
  keep();
}

}  // namespace halftool::io
