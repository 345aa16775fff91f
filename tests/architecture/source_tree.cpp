#include <algorithm>
#include <fstream>
#include <regex>
#include <sstream>

#include "tests/architecture/layer_rules.hpp"

namespace halftool::architecture {

SourceFile parse_source(const std::string& path, const std::string& text) {
  static const std::regex pattern(R"(^\s*#\s*include\s*([<"])([^>"]+)[>"])");
  SourceFile file;
  file.path = path;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    ++file.n_lines;
    std::smatch match;
    if (line.find("include") != std::string::npos && std::regex_search(line, match, pattern))
      file.includes.push_back({file.n_lines, match[2], match[1] == "<"});
  }
  return file;
}

std::vector<SourceFile> read_sources(const std::filesystem::path& root) {
  std::vector<SourceFile> files;
  for (const char* top : {"mesh", "solver", "io", "tests", "benchmarks"})
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root / top)) {
      const std::string extension = entry.path().extension();
      if (!entry.is_regular_file() || (extension != ".hpp" && extension != ".cpp")) continue;
      std::ostringstream text;
      text << std::ifstream(entry.path()).rdbuf();
      files.push_back(parse_source(entry.path().lexically_relative(root).generic_string(), text.str()));
    }
  std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.path < b.path; });
  return files;
}

std::vector<std::string> top_level_entries(const std::filesystem::path& root) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(root))
    names.push_back(entry.path().filename());
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace halftool::architecture
