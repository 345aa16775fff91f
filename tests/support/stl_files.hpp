#pragma once
#include <string>

#include "mesh/surface_mesh.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::testing {

/// A file that vanishes with the test.
class PassingFile {
 public:
  explicit PassingFile(const std::string& name);
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  halftool::test::ScratchFolder folder_;
  std::string path_;
};

/// Writes facets as binary STL.
/// @param header  first of the 80 bytes
void write_binary_stl(const mesh::SurfaceMesh& mesh, const std::string& path, const std::string& header = "");

/// The same as text, with nine digits.
void write_text_stl(const mesh::SurfaceMesh& mesh, const std::string& path);

/// Measures of a block with two rounded edges along y, as mesh::StraightBlock with 90-degree walls.
struct FacetedBlock {
  double length = 60, width = 40, height = 35, edge_radius = 3;  ///< [mm]
  int facets = 15;                                               ///< over each round of 90 degrees
  bool base = true;                                              ///< with its underside
};

/// The block as CAD programs export it: two long facets a strip of the rounds and a plane, the ends as fans.
mesh::SurfaceMesh faceted_block(const FacetedBlock& block);

/// Three corners of its own for each facet, as a file holds them.
mesh::SurfaceMesh loose_facets(const mesh::SurfaceMesh& mesh);

/// Corners moved by up to `by` [mm] along each axis, always the same way.
mesh::SurfaceMesh shaken(mesh::SurfaceMesh mesh, double by);

}  // namespace halftool::testing
