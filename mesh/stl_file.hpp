#pragma once
#include <string>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Reads the facets of an STL file, each with three corners of its own: rows 3 t to 3 t + 2 of the nodes.
/// Binary files are told by their size of 84 + 50 n bytes, whatever their header says. The stored normals and
/// the attribute bytes are not read: the order of the corners says the same. Source of the form:
/// "StereoLithography interface specification", 3D Systems (1989), from memory.
/// @param scale  millimetres in one unit of the file
/// @throws MeshError  no such file, neither form, no facets, a corner that is no place (facet or line named)
SurfaceMesh read_stl(const std::string& path, double scale);

}  // namespace halftool::mesh
