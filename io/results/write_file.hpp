#pragma once
#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>

namespace halftool::io {

/// A file or folder that could not be written. The message gives the path and the reason.
struct WriteError : std::runtime_error {
  WriteError(const std::filesystem::path& path, const std::string& reason)
      : std::runtime_error("cannot write " + path.string() + ": " + reason) {}
};

/// Writes a whole file, or nothing: the bytes go to a neighbour that takes the name only when complete.
/// @throws WriteError
void write_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace halftool::io
