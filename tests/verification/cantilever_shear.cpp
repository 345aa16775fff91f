#include "tests/verification/cantilever_shear.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

double miss(double computed, double table) {
  return std::max(0.0, std::abs(computed - table) - 0.0005) / std::abs(table);
}

}  // namespace

const std::array<CantileverTip, 20> kCantileverTable{
    {{0.05, 0.026, 0.663}, {0.10, 0.103, 1.309}, {0.15, 0.224, 1.922}, {0.20, 0.381, 2.493},
     {0.25, 0.563, 3.015}, {0.30, 0.763, 3.488}, {0.35, 0.971, 3.912}, {0.40, 1.184, 4.292},
     {0.45, 1.396, 4.631}, {0.50, 1.604, 4.933}, {0.55, 1.807, 5.202}, {0.60, 2.002, 5.444},
     {0.65, 2.190, 5.660}, {0.70, 2.370, 5.855}, {0.75, 2.541, 6.031}, {0.80, 2.705, 6.190},
     {0.85, 2.861, 6.335}, {0.90, 3.010, 6.467}, {0.95, 3.151, 6.588}, {1.00, 3.286, 6.698}}};

std::vector<CantileverTip> bend_cantilever(int divisions, unsigned seed) {
  mesh::Blank blank =
      blank_of(rectangle(kCantileverLength, 1, divisions, divisions / 8, Disorder{seed}), 0.1);
  const auto at = [&blank](double x) {
    return [&blank, x](int node) { return std::abs(blank.mesh.nodes(node, 0) - x) < 1e-9; };
  };
  clamp_border(blank, at(0));
  const solver::SheetModel model = elastic_model(blank, 1.2e6, 0);
  const std::vector<int> end = border_edges(blank, at(kCantileverLength));
  LoadedSheet sheet(model, edge_force(model, end, {0, 0, kCantileverForce}), 0);
  std::vector<CantileverTip> tips;
  for (const CantileverTip& row : kCantileverTable) {
    sheet.load_to(row.share);
    const Eigen::Vector3d u = sheet.displacement(blank.edges.nodes(end.front(), 0));
    tips.push_back({row.share, -u.x(), u.z()});
  }
  return tips;
}

double worst_miss(const std::vector<CantileverTip>& tips) {
  double worst = 0;
  for (std::size_t i = 0; i < tips.size(); ++i)
    worst = std::max({worst, miss(tips[i].shortening, kCantileverTable[i].shortening),
                      miss(tips[i].deflection, kCantileverTable[i].deflection)});
  return worst;
}

// With k^2 = (1 + sin tip angle) / 2 and sin f = 1 / (k sqrt 2), the load gives k by K(k) - F(k, f) = sqrt(P
// L^2 / E I).
double elastica_deflection(double load) {
  const double root = std::sqrt(load);
  double low = std::numbers::sqrt2 / 2;
  double high = 1;
  for (int i = 0; i < 50; ++i) {
    const double k = 0.5 * (low + high);
    const double foot = std::asin(std::min(1.0, 1 / (k * std::numbers::sqrt2)));
    (std::comp_ellint_1(k) - std::ellint_1(k, foot) < root ? low : high) = k;
  }
  const double foot = std::asin(1 / (low * std::numbers::sqrt2));
  return 1 - 2 / root * (std::comp_ellint_2(low) - std::ellint_2(low, foot));
}

}  // namespace halftool::test
