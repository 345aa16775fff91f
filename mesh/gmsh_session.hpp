#pragma once
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

/// Sole use of Gmsh for as long as it lives: one session at a time in a process (Gmsh is not thread-safe),
/// silent, with options that make two runs give the same mesh (one thread, frontal-Delaunay). Later sessions
/// wait for their turn.
class GmshSession {
 public:
  /// @throws MeshError  Gmsh does not start
  GmshSession();
  ~GmshSession();
  GmshSession(const GmshSession&) = delete;
  GmshSession& operator=(const GmshSession&) = delete;

  /// Runs calls of the Gmsh API and turns its errors into MeshError. Standard output is closed to
  /// OpenCASCADE, whose readers print whatever the options say.
  /// @param doing  what is being done, for the message ("reading block.step")
  void run(const std::string& doing, const std::function<void()>& calls) const;

  /// The same, but errors that Gmsh only logs are let pass: for measurements that may fail on single points.
  void attempt(const std::string& doing, const std::function<void()>& calls) const;

  /// Meshes all surfaces of the model.
  /// @param size  edge length [mm] at (x, y, z) on an entity of the given dimension and tag; none: the
  /// options' sizes
  /// @throws MeshError  with Gmsh's own last message; whatever `size` threw
  using SizeFunction = std::function<double(int dimension, int tag, double x, double y, double z)>;
  void generate_surface_mesh(const SizeFunction& size = nullptr) const;

 private:
  std::unique_lock<std::mutex> lock_;
};

/// Triangles of some surfaces of the current model, with the nodes that they use numbered from 0 in order of
/// first use.
struct ExtractedMesh {
  SurfaceMesh mesh;
  std::vector<int> surface_of;        ///< (n_triangles) tag of the CAD surface
  std::vector<std::size_t> node_tag;  ///< (n_nodes) number in Gmsh
};

/// @param surfaces  tags of CAD surfaces, in the order wanted
ExtractedMesh extract_triangles(const GmshSession& session, const std::vector<int>& surfaces);

}  // namespace halftool::mesh
