#include "tests/support/meshes.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <utility>

namespace halftool::test {
namespace {

using mesh::SurfaceMesh;

// Grid coordinates 0..nx by 0..ny, disturbed.
void place_nodes(int nx, int ny, const Disorder& disorder, std::mt19937& generator, SurfaceMesh& grid) {
  std::uniform_real_distribution<double> shift(-disorder.shift, disorder.shift);
  grid.nodes.setZero((nx + 1) * (ny + 1), 3);
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i <= nx; ++i) {
      Eigen::RowVector3d node(i, j, 0);
      if (disorder.seed != 0 && i > 0 && i < nx) node.x() += shift(generator);
      if (disorder.seed != 0 && j > 0 && j < ny) node.y() += shift(generator);
      grid.nodes.row(j * (nx + 1) + i) = node;
    }
}

SurfaceMesh unit_grid(int nx, int ny, const Disorder& disorder) {
  SurfaceMesh grid;
  std::mt19937 generator(disorder.seed);
  place_nodes(nx, ny, disorder, generator, grid);
  grid.triangles.resize(2 * nx * ny, 3);
  int next = 0;
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const int a = j * (nx + 1) + i;
      const int b = a + 1;
      const int c = b + nx + 1;
      const int d = a + nx + 1;
      const bool falling = disorder.seed != 0 && generator() % 2 == 0;
      grid.triangles.row(next++) = falling ? Eigen::RowVector3i(a, b, d) : Eigen::RowVector3i(a, b, c);
      grid.triangles.row(next++) = falling ? Eigen::RowVector3i(b, c, d) : Eigen::RowVector3i(a, c, d);
    }
  return grid;
}

// Node i of the ring k of a disc; node 0 is the centre.
int ring_node(int k, int i) {
  return k == 0 ? 0 : 1 + 3 * k * (k - 1) + i % (6 * k);
}

SurfaceMesh regular_disc(int rings) {
  SurfaceMesh result;
  result.triangles.resize(6 * rings * rings, 3);
  int next = 0;
  for (int k = 1; k <= rings; ++k)
    for (int sector = 0; sector < 6; ++sector)
      for (int i = 0; i < k; ++i) {
        const int out = sector * k + i;
        const int in = sector * (k - 1) + i;
        result.triangles.row(next++) << ring_node(k - 1, in), ring_node(k, out), ring_node(k, out + 1);
        if (i + 1 < k)
          result.triangles.row(next++) << ring_node(k - 1, in), ring_node(k, out + 1),
              ring_node(k - 1, in + 1);
      }
  result.nodes.setZero(1 + 3 * rings * (rings + 1), 3);
  return result;
}

double area_of(const SurfaceMesh& mesh, const Eigen::RowVector3i& nodes) {
  const Eigen::Vector3d ab = mesh.nodes.row(nodes(1)) - mesh.nodes.row(nodes(0));
  const Eigen::Vector3d ac = mesh.nodes.row(nodes(2)) - mesh.nodes.row(nodes(0));
  return 0.5 * ab.cross(ac).z();
}

// Flips every other edge of a plane mesh at random where neither new triangle becomes a sliver; each triangle
// takes part once.
void flip_edges(std::mt19937& generator, SurfaceMesh& mesh) {
  const mesh::EdgeTable edges = mesh::build_edges(mesh);
  std::vector<bool> changed(mesh.n_triangles(), false);
  for (int e = 0; e < edges.n_edges(); ++e) {
    const int left = edges.triangles(e, 0);
    const int right = edges.triangles(e, 1);
    if (right < 0 || changed[left] || changed[right] || generator() % 2 == 0) continue;
    const auto facing = [&](int triangle) {
      for (int i = 0; i < 3; ++i)
        if (edges.of_triangle(triangle, i) == e) return i;
      return -1;
    };
    const int at = facing(left);
    const int tail = mesh.triangles(left, (at + 1) % 3);
    const int head = mesh.triangles(left, (at + 2) % 3);
    const int left_tip = mesh.triangles(left, at);
    const int right_tip = mesh.triangles(right, facing(right));
    const Eigen::RowVector3i first(left_tip, tail, right_tip);
    const Eigen::RowVector3i second(left_tip, right_tip, head);
    const double whole = area_of(mesh, mesh.triangles.row(left)) + area_of(mesh, mesh.triangles.row(right));
    if (std::min(area_of(mesh, first), area_of(mesh, second)) < 0.25 * whole) continue;
    mesh.triangles.row(left) = first;
    mesh.triangles.row(right) = second;
    changed[left] = changed[right] = true;
  }
}

// Halves every edge of a mesh; middles are pushed to the sphere.
SurfaceMesh halved(const SurfaceMesh& coarse, double radius) {
  std::vector<Eigen::RowVector3d> nodes;
  for (int i = 0; i < coarse.n_nodes(); ++i) nodes.emplace_back(coarse.nodes.row(i));
  std::map<std::pair<int, int>, int> middles;
  const auto middle = [&](int a, int b) {
    const auto [at, is_new] = middles.try_emplace(std::minmax(a, b), static_cast<int>(nodes.size()));
    if (is_new) {
      const Eigen::RowVector3d sum = nodes[a] + nodes[b];
      nodes.emplace_back(radius * sum.normalized());
    }
    return at->second;
  };
  SurfaceMesh fine;
  fine.triangles.resize(4 * coarse.n_triangles(), 3);
  for (int t = 0; t < coarse.n_triangles(); ++t) {
    const Eigen::RowVector3i x = coarse.triangles.row(t);
    const int m0 = middle(x(1), x(2));
    const int m1 = middle(x(2), x(0));
    const int m2 = middle(x(0), x(1));
    fine.triangles.middleRows<4>(4 * t) << x(0), m2, m1, m2, x(1), m0, m1, m0, x(2), m0, m1, m2;
  }
  fine.nodes.resize(static_cast<int>(nodes.size()), 3);
  for (int i = 0; i < fine.n_nodes(); ++i) fine.nodes.row(i) = nodes[i];
  return fine;
}

}  // namespace

SurfaceMesh rectangle(double length, double width, int nx, int ny, const Disorder& disorder) {
  SurfaceMesh result = unit_grid(nx, ny, disorder);
  result.nodes.col(0) *= length / nx;
  result.nodes.col(1) *= width / ny;
  return result;
}

SurfaceMesh irregular_rectangle(double length, double width, int nx, int ny, unsigned seed) {
  return rectangle(length, width, nx, ny, {seed, 0.25});
}

SurfaceMesh crossed_strip(const std::vector<double>& ends, double width) {
  const int n = static_cast<int>(ends.size()) - 1;
  SurfaceMesh strip;
  strip.nodes.setZero(3 * n + 2, 3);
  strip.triangles.resize(4 * n, 3);
  for (int i = 0; i <= n; ++i) {
    strip.nodes.row(3 * i) << ends[i], 0, 0;
    strip.nodes.row(3 * i + 1) << ends[i], width, 0;
  }
  for (int i = 0; i < n; ++i) {
    const int a = 3 * i, b = a + 3, c = b + 1, d = a + 1, middle = a + 2;
    strip.nodes.row(middle) << 0.5 * (ends[i] + ends[i + 1]), 0.5 * width, 0;
    strip.triangles.middleRows<4>(4 * i) << a, b, middle, b, c, middle, c, d, middle, d, a, middle;
  }
  return strip;
}

SurfaceMesh annulus(double inner, double outer, double angle, int n_radial, int n_around,
                    const Disorder& disorder) {
  return mapped(unit_grid(n_radial, n_around, disorder), [&](const Eigen::Vector3d& grid) -> Eigen::Vector3d {
    const double radius = inner + (outer - inner) * grid.x() / n_radial;
    const double at = angle * grid.y() / n_around;
    return {radius * std::cos(at), radius * std::sin(at), 0};
  });
}

SurfaceMesh irregular_annulus(double inner, double outer, double angle, int n_radial, int n_around,
                              unsigned seed) {
  return annulus(inner, outer, angle, n_radial, n_around, {seed, 0.25});
}

SurfaceMesh disc(double radius, int rings, const Disorder& disorder) {
  std::mt19937 generator(disorder.seed);
  std::uniform_real_distribution<double> shift(-disorder.shift, disorder.shift);
  const auto random = [&] { return disorder.seed != 0 ? shift(generator) : 0.0; };
  SurfaceMesh result = regular_disc(rings);
  for (int k = 1; k <= rings; ++k)
    for (int i = 0; i < 6 * k; ++i) {
      const double at = std::numbers::pi / 3 * (i + random()) / k;
      const double r = radius * (k + (k < rings ? random() : 0)) / rings;
      result.nodes.row(ring_node(k, i)) << r * std::cos(at), r * std::sin(at), 0;
    }
  if (disorder.seed != 0) flip_edges(generator, result);
  return result;
}

SurfaceMesh unit_triangle(int n, const Disorder& disorder) {
  std::mt19937 generator(disorder.seed);
  std::uniform_real_distribution<double> shift(-disorder.shift, disorder.shift);
  const auto random = [&] { return disorder.seed != 0 ? shift(generator) : 0.0; };
  const auto node = [n](int i, int j) { return j * (n + 1) - j * (j - 1) / 2 + i; };
  SurfaceMesh result;
  result.nodes.setZero((n + 1) * (n + 2) / 2, 3);
  result.triangles.resize(n * n, 3);
  int next = 0;
  for (int j = 0; j <= n; ++j)
    for (int i = 0; i + j <= n; ++i) {
      const int k = n - i - j;  // away from the slanting side; shifts keep a node on the sides it is on
      const double along_x = i > 0 && k > 0 ? random() : 0;
      const double along_y = j > 0 && k > 0 ? random() : 0;
      const double slanting = i > 0 && j > 0 && k == 0 ? random() : 0;
      result.nodes.row(node(i, j)) << (i + along_x + slanting) / n, (j + along_y - slanting) / n, 0;
      if (k > 0) result.triangles.row(next++) << node(i, j), node(i + 1, j), node(i, j + 1);
      if (k > 1) result.triangles.row(next++) << node(i + 1, j), node(i + 1, j + 1), node(i, j + 1);
    }
  if (disorder.seed != 0) flip_edges(generator, result);
  return result;
}

SurfaceMesh sphere(double radius, int levels) {
  SurfaceMesh result;
  result.nodes.resize(6, 3);
  result.nodes << 1, 0, 0, 0, 1, 0, 0, 0, 1, -1, 0, 0, 0, -1, 0, 0, 0, -1;
  result.nodes *= radius;
  result.triangles.resize(8, 3);
  result.triangles << 0, 1, 2, 1, 3, 2, 3, 4, 2, 4, 0, 2, 1, 0, 5, 3, 1, 5, 4, 3, 5, 0, 4, 5;
  for (int level = 0; level < levels; ++level) result = halved(result, radius);
  return result;
}

SurfaceMesh mapped(SurfaceMesh mesh, const std::function<Eigen::Vector3d(const Eigen::Vector3d&)>& place) {
  for (int i = 0; i < mesh.n_nodes(); ++i)
    mesh.nodes.row(i) = place(mesh.nodes.row(i).transpose()).transpose();
  return mesh;
}

}  // namespace halftool::test
