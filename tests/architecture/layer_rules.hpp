#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace halftool::architecture {

/// One C++ file of the project and what it includes.
struct SourceFile {
  struct Include {
    int line = 0;
    std::string target;   ///< as written, without its brackets
    bool angled = false;  ///< <...> rather than "..."
  };
  std::string path;  ///< from the project's root, with '/'
  int n_lines = 0;
  std::vector<Include> includes;
};

using Violations = std::vector<std::string>;

/// The #include lines of a text.
SourceFile parse_source(const std::string& path, const std::string& text);

/// Every .hpp and .cpp below mesh, solver, io, tests and benchmarks, sorted by path.
std::vector<SourceFile> read_sources(const std::filesystem::path& root);

/// Names of the entries of the project's root, sorted.
std::vector<std::string> top_level_entries(const std::filesystem::path& root);

/// mesh <- solver <- io; none of them includes tests or benchmarks; quoted includes name an existing file
/// from the root, so that no other way of writing them escapes the rules.
Violations check_layers(const std::vector<SourceFile>& files);

/// Within solver: kinematics, material and contact include none of each other and nothing above; then the
/// root of solver, assembly, stepping, springback in that order; assessment reads results and material data
/// only.
Violations check_solver_parts(const std::vector<SourceFile>& files);

/// No file, and no folder of mesh, solver or io, reaches itself through includes.
Violations check_cycles(const std::vector<SourceFile>& files);

/// Headers show Eigen and the standard library only; each other library stays in the .cpp files of its layer.
Violations check_libraries(const std::vector<SourceFile>& files);

/// At most 500 lines a source file, 200 a header.
Violations check_lengths(const std::vector<SourceFile>& files);

/// Only the agreed entries, dotfiles, and folders of results.
Violations check_top_level(const std::vector<std::string>& entries);

}  // namespace halftool::architecture
