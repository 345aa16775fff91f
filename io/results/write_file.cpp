#include "io/results/write_file.hpp"

#include <cerrno>
#include <cstring>
#include <fstream>

namespace halftool::io {

void write_file(const std::filesystem::path& path, std::string_view bytes) {
  const std::filesystem::path part = path.string() + ".part";
  errno = 0;
  std::ofstream out(part, std::ios::binary);
  out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  out.close();
  std::error_code trouble;
  if (!out) {
    const std::string reason = errno != 0 ? std::strerror(errno) : "the file cannot be written";
    std::filesystem::remove(part, trouble);
    throw WriteError(path, reason);
  }
  std::filesystem::rename(part, path, trouble);
  if (trouble) throw WriteError(path, trouble.message());
}

}  // namespace halftool::io
