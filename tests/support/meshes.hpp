#pragma once
#include <Eigen/Core>
#include <functional>
#include <vector>

#include "mesh/surface_mesh.hpp"

namespace halftool::test {

/// How a regular grid is disturbed: inner nodes by up to `shift` of a cell in each direction, border nodes as
/// much along the border, corners not at all; the diagonal of each cell at random. Seed 0: regular, one
/// diagonal.
struct Disorder {
  unsigned seed = 0;
  double shift = 0.25;
};

/// Flat rectangle 0..length by 0..width in the plane z = 0, normal +z, 2 nx ny triangles; nodes row by row
/// along x. A strip is a rectangle with ny = 1 or 2.
mesh::SurfaceMesh rectangle(double length, double width, int nx, int ny, const Disorder& disorder = {});

/// Irregular rectangle with 25 percent node shift and random diagonals.
mesh::SurfaceMesh irregular_rectangle(double length, double width, int nx, int ny, unsigned seed);

/// Flat strip 0..width across y in the plane z = 0, normal +z: one row of cells along x, each cut by both
/// diagonals into four triangles. A field that does not vary across the strip has a place in this mesh.
/// @param ends  (cells + 1) places along x of the cells' ends, rising
mesh::SurfaceMesh crossed_strip(const std::vector<double>& ends, double width);

/// Flat sector of a ring in the plane z = 0 from the x axis through `angle` [rad], normal +z; an angle of 2
/// pi leaves it slit along the x axis. Nodes run outwards, then around.
mesh::SurfaceMesh annulus(double inner, double outer, double angle, int n_radial, int n_around,
                          const Disorder& disorder = {});

/// Irregular sector with 25 percent node shift and random diagonals.
mesh::SurfaceMesh irregular_annulus(double inner, double outer, double angle, int n_radial, int n_around,
                                    unsigned seed);

/// Flat disc about the origin in the plane z = 0, normal +z: node 0 at the centre, 6 k nodes on ring k, 6
/// rings^2 triangles; border nodes on the circle. Disorder as above, the centre stays; half of the edges
/// whose two triangles allow it are flipped.
mesh::SurfaceMesh disc(double radius, int rings, const Disorder& disorder = {});

/// Flat right triangle (0, 0), (1, 0), (0, 1) in the plane z = 0, normal +z: n^2 triangles, nodes row by row.
/// Disorder as above, flips as in the disc; the border keeps its straight lines.
mesh::SurfaceMesh unit_triangle(int n, const Disorder& disorder = {});

/// Closed sphere about the origin, normal outwards: an octahedron, each edge halved `levels` times (8 *
/// 4^levels triangles of unlike shapes).
mesh::SurfaceMesh sphere(double radius, int levels);

/// The same triangles with every node moved.
mesh::SurfaceMesh mapped(mesh::SurfaceMesh mesh,
                         const std::function<Eigen::Vector3d(const Eigen::Vector3d&)>& place);

}  // namespace halftool::test
