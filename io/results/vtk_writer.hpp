#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <string>
#include <vector>

#include "io/results/write_file.hpp"
#include "mesh/surface_mesh.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// How floating-point fields are stored; positions are always stored in full.
enum class Precision { full, single };

/// A scalar field of the sheet as it stands in the .vtu files, once as cell data (the computed value of each
/// triangle) and once as point data (its area-weighted mean at the nodes, for smooth pictures).
struct SheetField {
  std::string name;     ///< as in the file, with the unit: "thickness [mm]"
  std::string meaning;  ///< one sentence
  Eigen::VectorXd (*of)(const solver::SheetFields& fields);  ///< (n_triangles)
  bool smooth = true;                                        ///< has a mean at the nodes; a kind has none
};

/// All scalar fields in the order in which they are written.
const std::vector<SheetField>& sheet_fields();

/// The fields as a Markdown table, for the README.
std::string sheet_fields_markdown();

/// A vector field at the nodes that is written beside the standard ones.
struct NodeVectors {
  std::string name;     ///< with the unit
  mesh::Points values;  ///< (n_nodes, 3)
};

/// Writes the sheet as a VTK XML unstructured grid (appended, LZ4). Point data also holds "displacement
/// [mm]"; field data holds "pressure [MPa]". The file appears only when it is complete.
/// @throws WriteError
void write_sheet(const std::filesystem::path& path, const solver::SheetFields& fields,
                 const std::vector<NodeVectors>& extra = {}, Precision precision = Precision::full);

/// Writes a bare surface (the tool half) in the same format.
/// @throws WriteError
void write_surface(const std::filesystem::path& path, const mesh::SurfaceMesh& surface);

}  // namespace halftool::io
