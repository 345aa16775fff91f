#include "tests/verification/cantilever_moment.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kThickness = 0.1;
constexpr double kModulus = 1.2e6;

// Displacement of the tip where a strip that does not stretch is bent to an arc of this angle [rad].
Eigen::Vector3d exact(double angle) {
  return {kRingLength * (std::sin(angle) / angle - 1), 0, kRingLength * (1 - std::cos(angle)) / angle};
}

}  // namespace

// The end edges keep the direction of the axis of bending, so their turns are the turns of the end and the
// moment's work is moment times turn: a dead load on the turns. Each edge carries its share of the width.
Ring roll(int divisions, unsigned seed) {
  mesh::Blank blank =
      blank_of(rectangle(kRingLength, 1, divisions, divisions / 8, Disorder{seed}), kThickness);
  const auto at = [&blank](double x) {
    return [&blank, x](int node) { return std::abs(blank.mesh.nodes(node, 0) - x) < 1e-9; };
  };
  clamp_border(blank, at(0));
  const solver::SheetModel model = elastic_model(blank, kModulus, 0);
  const std::vector<int> end = border_edges(blank, at(kRingLength));
  const double stiffness = kModulus * std::pow(kThickness, 3) / 12;
  const double whole = 2 * std::numbers::pi * stiffness / kRingLength;
  LoadedSheet sheet(model, edge_moment(model, end, {0, -whole, 0}), 0);
  Ring ring;
  for (int i = 1; i <= 20; ++i) {
    const double share = 0.05 * i;
    sheet.load_to(share);
    const Eigen::Vector3d u = sheet.displacement(blank.edges.nodes(end.front(), 0));
    const Eigen::Vector3d wanted = exact(2 * std::numbers::pi * share);
    ring.opening = (u - wanted).norm();
    const double miss = ring.opening / wanted.norm();
    if (miss > ring.worst_miss) ring = {miss, share, wanted.norm(), ring.opening};
  }
  return ring;
}

}  // namespace halftool::test
