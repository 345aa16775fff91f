#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "io/results/summary.hpp"
#include "io/results/vtk_writer.hpp"
#include "mesh/surface_mesh.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// What there is to write. Null pointers are states that the job did not reach.
struct ResultInput {
  const solver::SheetFields* formed = nullptr;    ///< end of the dwell
  const solver::SheetFields* released = nullptr;  ///< free of the tool, best-fitted to the formed part
  /// What is left of the formed part by trims after the last step, on the released part's mesh; null: all
  const solver::SheetFields* formed_trimmed = nullptr;
  const mesh::SurfaceMesh* tool = nullptr;
  const Summary* summary = nullptr;
};

/// Writes formed.vtu, released.vtu (with "springback [mm]", released minus formed, at the nodes), tool.vtu
/// and summary.json into the folder, which is made if need be.
/// @return names of the files written, in that order
/// @throws WriteError
std::vector<std::string> write_results(const std::filesystem::path& folder, const ResultInput& input);

}  // namespace halftool::io
