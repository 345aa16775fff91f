#include "tests/support/stl_files.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <numbers>
#include <random>
#include <vector>

namespace halftool::testing {

PassingFile::PassingFile(const std::string& name) : path_((folder_.path() / name).string()) {}

void write_binary_stl(const mesh::SurfaceMesh& mesh, const std::string& path, const std::string& header) {
  std::ofstream file(path, std::ios::binary);
  char head[80] = {};
  std::memcpy(head, header.data(), std::min<std::size_t>(header.size(), sizeof head));
  file.write(head, sizeof head);
  const auto n = static_cast<std::uint32_t>(mesh.n_triangles());
  file.write(reinterpret_cast<const char*>(&n), sizeof n);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    float values[12] = {};  // the normal stays zero: readers take it from the corners
    for (int i = 0; i < 9; ++i) {
      values[3 + i] = static_cast<float>(mesh.nodes(mesh.triangles(t, i / 3), i % 3));
    }
    file.write(reinterpret_cast<const char*>(values), sizeof values);
    file.write("\0\0", 2);
  }
}

void write_text_stl(const mesh::SurfaceMesh& mesh, const std::string& path) {
  std::ofstream file(path);
  file.precision(9);
  file << "solid a tool\n";
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    file << "facet normal 0 0 0\n outer loop\n";
    for (int i = 0; i < 3; ++i) file << "  vertex " << mesh.nodes.row(mesh.triangles(t, i)) << '\n';
    file << " endloop\nendfacet\n";
  }
  file << "endsolid a tool\n";
}

mesh::SurfaceMesh faceted_block(const FacetedBlock& block) {
  // The profile, counter-clockwise seen from -y: foot left, over the top to the right, foot right.
  std::vector<Eigen::Vector2d> profile{{block.length / 2, 0}};
  const double c = block.length / 2 - block.edge_radius;
  for (const double side : {1.0, -1.0}) {
    for (int k = 0; k <= block.facets; ++k) {
      const double share = static_cast<double>(side > 0 ? k : block.facets - k) / block.facets;
      const double turn = 0.5 * std::numbers::pi * (1 - share);
      profile.emplace_back(side * (c + block.edge_radius * std::sin(turn)),
                           block.height - block.edge_radius + block.edge_radius * std::cos(turn));
    }
  }
  profile.emplace_back(-block.length / 2, 0);
  const auto n = static_cast<int>(profile.size());
  mesh::SurfaceMesh mesh;
  mesh.nodes.resize(2 * n, 3);
  for (int k = 0; k < n; ++k) {
    const auto& at = profile[static_cast<std::size_t>(k)];
    mesh.nodes.row(2 * k) << at.x(), -block.width / 2, at.y();
    mesh.nodes.row(2 * k + 1) << at.x(), block.width / 2, at.y();
  }
  std::vector<Eigen::RowVector3i> facets;
  const auto add = [&](int a, int b, int c3) { facets.emplace_back(a, b, c3); };
  for (int k = 0; k < (block.base ? n : n - 1); ++k) {
    const int a = 2 * k, b = 2 * ((k + 1) % n);
    add(a, a + 1, b + 1);
    add(a, b + 1, b);
  }
  for (int k = 1; k + 1 < n; ++k) {
    add(0, 2 * k, 2 * (k + 1));
    add(1, 2 * (k + 1) + 1, 2 * k + 1);
  }
  mesh.triangles.resize(static_cast<Eigen::Index>(facets.size()), 3);
  for (std::size_t t = 0; t < facets.size(); ++t)
    mesh.triangles.row(static_cast<Eigen::Index>(t)) = facets[t];
  return mesh;
}

mesh::SurfaceMesh loose_facets(const mesh::SurfaceMesh& mesh) {
  mesh::SurfaceMesh loose;
  loose.nodes.resize(3 * mesh.triangles.rows(), 3);
  loose.triangles.resize(mesh.triangles.rows(), 3);
  for (Eigen::Index i = 0; i < mesh.triangles.size(); ++i) {
    loose.nodes.row(i) = mesh.nodes.row(mesh.triangles.data()[i]);
    loose.triangles.data()[i] = static_cast<int>(i);
  }
  return loose;
}

mesh::SurfaceMesh shaken(mesh::SurfaceMesh mesh, double by) {
  std::mt19937 random(3);
  for (Eigen::Index i = 0; i < mesh.nodes.size(); ++i)
    mesh.nodes.data()[i] +=
        by * (2.0 * static_cast<double>(random()) / static_cast<double>(std::mt19937::max()) - 1);
  return mesh;
}

}  // namespace halftool::testing
