#include "mesh/gmsh_session.hpp"

#include <fcntl.h>
#include <gmsh.h>
#include <unistd.h>

#include <cstdio>
#include <exception>
#include <iostream>
#include <unordered_map>

namespace halftool::mesh {
namespace {

std::mutex& only_session() {
  static std::mutex mutex;
  return mutex;
}

/// Sends file descriptor 1 to nowhere for as long as it lives.
class MutedOutput {
 public:
  MutedOutput() {
    flush();
    const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere < 0) return;
    saved_ = fcntl(STDOUT_FILENO, F_DUPFD_CLOEXEC, 0);
    if (saved_ >= 0) dup2(nowhere, STDOUT_FILENO);
    close(nowhere);
  }
  ~MutedOutput() {
    flush();
    if (saved_ < 0) return;
    dup2(saved_, STDOUT_FILENO);
    close(saved_);
  }
  MutedOutput(const MutedOutput&) = delete;
  MutedOutput& operator=(const MutedOutput&) = delete;

 private:
  static void flush() {
    std::cout.flush();
    std::fflush(stdout);
  }
  int saved_ = -1;
};

std::vector<std::string> session_log() {
  std::vector<std::string> lines;
  gmsh::logger::get(lines);
  return lines;
}

/// The first error logged after the first `n_known` lines, or nothing. With aborting switched off, Gmsh only
/// logs most of its errors; its "last error" is no use here, for it outlives the session.
std::string error_logged_since(std::size_t n_known) {
  const std::string mark = "Error: ";
  const std::vector<std::string> lines = session_log();
  for (std::size_t i = n_known; i < lines.size(); ++i) {
    if (lines[i].compare(0, mark.size(), mark) == 0) return lines[i].substr(mark.size());
  }
  return {};
}

void set_options() {
  gmsh::option::setNumber("General.Terminal", 0);
  gmsh::option::setNumber("General.AbortOnError", 0);
  gmsh::option::setNumber("General.NumThreads", 1);
  gmsh::option::setNumber("Mesh.Algorithm", 6);
  gmsh::option::setNumber("Mesh.CharacteristicLengthFromPoints", 0);
  gmsh::option::setNumber("Mesh.CharacteristicLengthFromCurvature", 0);
  gmsh::option::setNumber("Mesh.CharacteristicLengthExtendFromBoundary", 0);
  gmsh::option::setString("Geometry.OCCTargetUnit", "MM");
}

}  // namespace

GmshSession::GmshSession() : lock_(only_session()) {
  attempt("starting Gmsh", [] {
    gmsh::initialize(0, nullptr, false);  // a user's own Gmsh settings must not change the mesh
    set_options();
    gmsh::model::add("halftool");
    gmsh::logger::start();
  });
}

GmshSession::~GmshSession() {
  try {
    const MutedOutput muted;
    gmsh::logger::stop();
    gmsh::finalize();
  } catch (...) {  // nothing is left that could be mended
  }
}

void GmshSession::run(const std::string& doing, const std::function<void()>& calls) const {
  const std::size_t n_known = session_log().size();
  attempt(doing, calls);
  const std::string message = error_logged_since(n_known);
  if (!message.empty()) throw MeshError(doing + ": " + message);
}

void GmshSession::attempt(const std::string& doing, const std::function<void()>& calls) const {
  const MutedOutput muted;
  try {
    calls();
  } catch (const std::string& message) {
    throw MeshError(doing + ": " + message);
  } catch (const MeshError&) {
    throw;
  } catch (const std::exception& error) {
    throw MeshError(doing + ": " + error.what());
  } catch (...) {  // OpenCASCADE has exceptions of its own
    throw MeshError(doing + ": the geometry kernel failed");
  }
}

void GmshSession::generate_surface_mesh(const SizeFunction& size) const {
  std::exception_ptr thrown;
  if (size) {
    gmsh::model::mesh::setSizeCallback([&](int dimension, int tag, double x, double y, double z) {
      try {
        return size(dimension, tag, x, y, z);
      } catch (...) {  // an exception through Gmsh would end the process
        thrown = std::current_exception();
        return 1e22;
      }
    });
  }
  std::vector<std::size_t> elements, nodes;
  run("meshing", [&] {
    gmsh::model::mesh::generate(2);
    if (size) gmsh::model::mesh::removeSizeCallback();
    if (thrown) std::rethrow_exception(thrown);
    gmsh::model::mesh::getElementsByType(2, elements, nodes);
  });
  if (elements.empty()) throw MeshError("the mesher gave no triangles");
}

ExtractedMesh extract_triangles(const GmshSession& session, const std::vector<int>& surfaces) {
  ExtractedMesh result;
  std::vector<std::size_t> all_tags;
  std::vector<double> coordinates, parameters;
  std::vector<std::size_t> corners;
  session.run("reading the mesh", [&] {
    gmsh::model::mesh::getNodes(all_tags, coordinates, parameters, -1, -1, false, false);
    for (const int surface : surfaces) {
      std::vector<std::size_t> elements, nodes;
      gmsh::model::mesh::getElementsByType(2, elements, nodes, surface);
      corners.insert(corners.end(), nodes.begin(), nodes.end());
      result.surface_of.insert(result.surface_of.end(), elements.size(), surface);
    }
  });
  std::unordered_map<std::size_t, std::size_t> place;
  for (std::size_t i = 0; i < all_tags.size(); ++i) place.emplace(all_tags[i], i);
  std::unordered_map<std::size_t, int> number;
  result.mesh.triangles.resize(static_cast<Eigen::Index>(corners.size() / 3), 3);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const auto [entry, is_new] = number.try_emplace(corners[i], static_cast<int>(number.size()));
    if (is_new) result.node_tag.push_back(corners[i]);
    result.mesh.triangles.data()[i] = entry->second;
  }
  result.mesh.nodes.resize(static_cast<Eigen::Index>(result.node_tag.size()), 3);
  for (std::size_t i = 0; i < result.node_tag.size(); ++i) {
    const double* x = &coordinates[3 * place.at(result.node_tag[i])];
    result.mesh.nodes.row(static_cast<Eigen::Index>(i)) << x[0], x[1], x[2];
  }
  return result;
}

}  // namespace halftool::mesh
