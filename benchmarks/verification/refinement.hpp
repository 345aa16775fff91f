#pragma once
#include <functional>
#include <string>
#include <vector>

#include "benchmarks/verification/problem.hpp"

namespace halftool::verification {

/// One quantity on meshes of halved size, the regular one and irregular ones.
struct Refinement {
  std::string quantity;
  double reference = 0;
  std::function<double(int divisions, unsigned seed)> value;
  std::function<std::string(int divisions)> cells;  ///< words for the mesh, e.g. "32 x 8"
  std::vector<int> divisions;                       ///< each twice the one before
  std::vector<unsigned> seeds{0, 1, 2, 3};          ///< 0: the regular mesh
  int judged = 0;                                   ///< divisions that must hold the allowed error
  double allowed = 0;
  std::string if_missed = {};  ///< remark of a judged row that misses
};

/// "32 x 32".
std::string square_cells(int divisions);

/// "32 x 32, irregular, seed 1" or "32 x 32, structured".
std::string mesh_words(const std::string& cells, unsigned seed);

/// A row for each mesh, with the order of convergence from the mesh before.
void add_refinement(const Refinement& refinement, Report& report);

}  // namespace halftool::verification
