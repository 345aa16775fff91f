#include "tests/verification/flange_strip_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tests/support/blank_of.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kHeight = 35, kLength = 100;  // of block and strip [mm]
constexpr double kGrowth = 0.25;  // of the edge length per length, as the program's meshes have it

double arc(const FlangeStrip& setup) {
  return 0.5 * std::numbers::pi * (setup.edge_radius + 0.5 * kFlangeThickness);
}

/// Wanted length of a cell: that in the bend over the band that reaches the radius, growing away from it (see
/// mesh/size_field).
double cell_length(const FlangeStrip& setup, double along) {
  const double fine = arc(setup) / setup.elements_per_bend;
  const double coarsest = setup.coarsest > 0 ? setup.coarsest : kFlangeThickness;
  const double band = arc(setup) - setup.edge_radius + 2 * kFlangeThickness;
  const double low = 0.5 * kFlangeBlock - setup.edge_radius - band, high = 0.5 * kFlangeBlock + band;
  const double away = std::max({0.0, low - along, along - high});
  return std::min(std::max(coarsest, fine), fine + kGrowth * away);
}

/// Ends of the cells along half the strip: each cell takes the same share of the integral of 1/length.
std::vector<double> cell_ends(const FlangeStrip& setup) {
  constexpr int kSamples = 20000;
  constexpr double kStep = 0.5 * kLength / kSamples;
  std::vector<double> cells(kSamples + 1, 0.0);
  for (int i = 0; i < kSamples; ++i) cells[i + 1] = cells[i] + kStep / cell_length(setup, (i + 0.5) * kStep);
  const int n = static_cast<int>(std::ceil(cells.back()));
  std::vector<double> ends{0.0};
  for (int k = 1, at = 0; k < n; ++k) {
    const double wanted = cells.back() * k / n;
    while (cells[at + 1] < wanted) ++at;
    ends.push_back(kStep * (at + (wanted - cells[at]) / (cells[at + 1] - cells[at])));
  }
  ends.push_back(0.5 * kLength);
  return ends;
}

mesh::Blank crossed_blank(const FlangeStrip& setup) {
  const double width = arc(setup) / setup.elements_per_bend;
  mesh::SurfaceMesh strip = crossed_strip(cell_ends(setup), width);
  strip.nodes.col(2).setConstant(kHeight + 0.5 * kFlangeThickness);
  mesh::Blank blank = blank_of(strip, kFlangeThickness);
  mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  mark_border(blank, 1, width, mesh::EdgeKind::symmetry_y);
  return blank;
}

}  // namespace

mesh::ToolSurface flange_block(const FlangeStrip& setup) {
  mesh::ToolSpec spec;
  spec.shape =
      mesh::StraightBlock{kFlangeBlock, std::max(40.0, setup.width + 10), kHeight, setup.edge_radius};
  return mesh::make_tool(spec);
}

mesh::Blank flange_blank(const FlangeStrip& setup, const mesh::ToolSurface& block) {
  if (setup.model == StripModel::crossed) return crossed_blank(setup);
  mesh::BlankSpec spec;
  spec.outline = mesh::RectangleOutline{kLength, setup.width, 0};
  spec.thickness = kFlangeThickness;
  spec.symmetric_x = spec.symmetric_y = true;
  spec.flatness = setup.flatness;
  mesh::BlankMeshSpec mesh_spec;
  mesh_spec.elements_per_bend = setup.elements_per_bend;
  mesh_spec.coarsest = setup.coarsest;
  mesh::Blank blank = mesh::make_blank(spec, mesh_spec, block);
  if (setup.model == StripModel::irregular)
    mark_border(blank, 1, 0.5 * setup.width, mesh::EdgeKind::symmetry_y);
  return blank;
}

}  // namespace halftool::test
