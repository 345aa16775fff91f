#include "tests/architecture/layer_rules.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string_view>

namespace halftool::architecture {
namespace {

constexpr int kMostLines = 500;
constexpr int kMostHeaderLines = 200;

bool is_header(const SourceFile& file) {
  return file.path.ends_with(".hpp");
}

std::string top_folder(const std::string& path) {
  return path.substr(0, path.find('/'));
}

std::string folder(const std::string& path) {
  return path.substr(0, path.rfind('/'));
}

std::string at(const SourceFile& file, const SourceFile::Include& include) {
  return file.path + ":" + std::to_string(include.line) + ": includes " + include.target;
}

/// 0 mesh, 1 solver, 2 io, 3 tests and benchmarks.
int layer(const std::string& path) {
  const std::string top = top_folder(path);
  return top == "mesh" ? 0 : top == "solver" ? 1 : top == "io" ? 2 : 3;
}

using Graph = std::map<std::string, std::set<std::string>>;

/// Depth-first search; the first way found from `node` back into the way that leads to it.
std::optional<std::vector<std::string>> find_cycle(const Graph& graph, const std::string& node,
                                                   std::vector<std::string>& way,
                                                   std::set<std::string>& done) {
  if (const auto seen = std::find(way.begin(), way.end(), node); seen != way.end()) {
    std::vector<std::string> cycle(seen, way.end());
    cycle.push_back(node);
    return cycle;
  }
  if (!done.insert(node).second) return std::nullopt;
  way.push_back(node);
  if (const auto edges = graph.find(node); edges != graph.end())
    for (const std::string& next : edges->second)
      if (auto cycle = find_cycle(graph, next, way, done)) return cycle;
  way.pop_back();
  return std::nullopt;
}

void report_cycle(const Graph& graph, const std::string& kind, Violations& violations) {
  std::set<std::string> done;
  for (const auto& [node, edges] : graph) {
    std::vector<std::string> way;
    const auto cycle = find_cycle(graph, node, way, done);
    if (!cycle) continue;
    std::string text = kind + " cycle: " + cycle->front();
    for (size_t i = 1; i < cycle->size(); ++i) text += " -> " + (*cycle)[i];
    violations.push_back(text);
    return;
  }
}

/// Folder of a library's headers and the layers whose .cpp files may include it.
struct Library {
  std::string_view prefix;
  std::set<std::string> layers;
};

const std::vector<Library>& libraries() {
  static const std::set<std::string> any = {"mesh", "solver", "io"};
  static const std::vector<Library> table = {
      {"gmsh", {"mesh"}},      {"embree", {"mesh"}},  {"cholmod", {"solver"}},
      {"dmumps", {"solver"}},  {"metis", {"solver"}}, {"omp.h", {"solver"}},
      {"vtk", {"io"}},         {"toml", {"io"}},      {"CLI", {"io"}},
      {"nlohmann", {"io"}},    {"fmt", {"io"}},       {"cairo", {"io"}},
      {"sys/", any},           {"unistd.h", any},     {"fcntl.h", any},
      {"signal.h", any},       {"BRep", {"mesh"}},    {"GCPnts", {"mesh"}},
      {"GProp", {"mesh"}},     {"Geom", {"mesh"}},    {"STEP", {"mesh"}},
      {"Standard", {"mesh"}},  {"TCol", {"mesh"}},    {"TopExp", {"mesh"}},
      {"TopoDS", {"mesh"}},    {"dxflib", {"io"}},    {"spawn.h", any},
      {"poll.h", any},         {"X11/", {"io"}},      {"unsupported", {"solver"}},
      {"cereal", {"io"}},      {"Step", {"mesh"}},    {"Interface_", {"mesh"}},
      {"XSControl", {"mesh"}},
  };
  return table;
}

bool is_standard_or_eigen(const std::string& target) {
  return target.starts_with("Eigen/") || target.find_first_of("./") == std::string::npos;
}

/// Rank of a part of solver: a file includes its own folder and lower ranks only. Parts of rank 0 stand
/// alone.
std::optional<int> solver_rank(const std::string& part) {
  static const std::map<std::string, int> ranks = {
      {"solver/kinematics", 0}, {"solver/material", 0}, {"solver/contact", 0},   {"solver", 1},
      {"solver/assembly", 2},   {"solver/stepping", 3}, {"solver/springback", 4}};
  const auto rank = ranks.find(part);
  return rank == ranks.end() ? std::nullopt : std::optional(rank->second);
}

bool solver_part_may_include(const std::string& part, const std::string& target) {
  if (part == target) return true;
  if (part == "solver/assessment") return target == "solver" || target == "solver/material";
  const auto from = solver_rank(part), to = solver_rank(target);
  return from && to && *to < *from;
}

}  // namespace

Violations check_layers(const std::vector<SourceFile>& files) {
  std::set<std::string> paths;
  for (const SourceFile& file : files) paths.insert(file.path);
  Violations violations;
  for (const SourceFile& file : files)
    for (const auto& include : file.includes) {
      const bool names_a_layer = layer(include.target) < 3 || include.target.starts_with("tests/");
      if (include.angled && !names_a_layer) continue;
      if (!paths.contains(include.target))
        violations.push_back(at(file, include) + ", which is no file of the project named from its root");
      else if (layer(include.target) > layer(file.path))
        violations.push_back(at(file, include) + ", against mesh <- solver <- io");
    }
  return violations;
}

Violations check_solver_parts(const std::vector<SourceFile>& files) {
  Violations violations;
  for (const SourceFile& file : files) {
    if (top_folder(file.path) != "solver") continue;
    const std::string part = folder(file.path);
    if (part != "solver/assessment" && !solver_rank(part))
      violations.push_back(file.path + ": " + part + " is not a known part of solver");
    for (const auto& include : file.includes)
      if (top_folder(include.target) == "solver" && !solver_part_may_include(part, folder(include.target)))
        violations.push_back(at(file, include) + ", against the order of solver's parts");
  }
  return violations;
}

Violations check_cycles(const std::vector<SourceFile>& files) {
  Graph file_graph, folder_graph;
  for (const SourceFile& file : files)
    for (const auto& include : file.includes) {
      file_graph[file.path].insert(include.target);
      if (layer(file.path) < 3 && layer(include.target) < 3 && folder(file.path) != folder(include.target))
        folder_graph[folder(file.path)].insert(folder(include.target));
    }
  Violations violations;
  report_cycle(file_graph, "file", violations);
  report_cycle(folder_graph, "folder", violations);
  return violations;
}

Violations check_libraries(const std::vector<SourceFile>& files) {
  Violations violations;
  for (const SourceFile& file : files) {
    const std::string top = top_folder(file.path);
    if (layer(file.path) == 3) continue;
    for (const auto& include : file.includes) {
      if (!include.angled || is_standard_or_eigen(include.target)) continue;
      const auto library = std::find_if(
          libraries().begin(), libraries().end(),
          [&](const Library& candidate) { return include.target.starts_with(candidate.prefix); });
      if (is_header(file))
        violations.push_back(at(file, include) + ", but headers show Eigen and the standard library only");
      else if (library == libraries().end())
        violations.push_back(at(file, include) + ", a library without a layer in layer_rules.cpp");
      else if (!library->layers.contains(top))
        violations.push_back(at(file, include) + ", a library of another layer");
    }
  }
  return violations;
}

Violations check_lengths(const std::vector<SourceFile>& files) {
  Violations violations;
  for (const SourceFile& file : files) {
    const int most = is_header(file) ? kMostHeaderLines : kMostLines;
    if (file.n_lines > most)
      violations.push_back(file.path + ": " + std::to_string(file.n_lines) + " lines, at most " +
                           std::to_string(most));
  }
  return violations;
}

Violations check_top_level(const std::vector<std::string>& entries) {
  static const std::set<std::string> agreed = {"CMakeLists.txt", "CMakePresets.json",
                                               "DEVELOPERS.md",  "LICENSE",
                                               "README.md",      "benchmarks",
                                               "cases",          "io",
                                               "mesh",           "solver",
                                               "tests"};
  Violations violations;
  for (const std::string& entry : entries) {
    const bool results = entry == "results" || entry.ends_with(".halftool-run");  // as in .gitignore
    if (!agreed.contains(entry) && !entry.starts_with(".") && !results)
      violations.push_back(entry + ": not an agreed entry of the top level");
  }
  return violations;
}

}  // namespace halftool::architecture
