#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>

namespace halftool::io {

/// A file or folder that could not be written. The message gives the path and the reason.
struct WriteError : std::runtime_error {
  WriteError(const std::filesystem::path& path, const std::string& reason)
      : std::runtime_error("cannot write " + path.string() + ": " + reason) {}
};

}  // namespace halftool::io
