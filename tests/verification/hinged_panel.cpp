#include "tests/verification/hinged_panel.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "tests/support/blank_of.hpp"
#include "tests/support/followed_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/supports.hpp"

namespace halftool::test {
namespace {

constexpr double kRadius = 2540;
constexpr double kHalfAngle = 0.1;
constexpr double kHalfLength = 254;
constexpr double kForce = 3000;
constexpr double kLongestStep = 0.5;  // root mean square of the nodes' motions [mm]

constexpr std::array<PathPoint, 36> kThick{
    {{0.693, 0.0877},  {1.638, 0.198},   {3.087, 0.3473},  {4.477, 0.4686},  {5.802, 0.5647},
     {7.057, 0.6381},  {8.237, 0.6908},  {9.339, 0.7246},  {10.358, 0.7412}, {11.293, 0.7421},
     {12.141, 0.7286}, {12.903, 0.7023}, {13.583, 0.6649}, {14.188, 0.6182}, {14.728, 0.5643},
     {15.217, 0.5055}, {15.676, 0.4442}, {16.125, 0.383},  {16.59, 0.3245},  {17.094, 0.2717},
     {17.657, 0.2272}, {18.299, 0.194},  {19.028, 0.175},  {19.852, 0.1729}, {20.771, 0.1905},
     {21.78, 0.2303},  {22.875, 0.295},  {24.049, 0.3871}, {24.663, 0.4443}, {25.293, 0.5093},
     {25.94, 0.5826},  {26.601, 0.6644}, {27.276, 0.7551}, {27.964, 0.8549}, {28.663, 0.9643},
     {29.374, 1.0835}}};
constexpr std::array<PathPoint, 36> kThin{
    {{1.846, 0.0517},   {5.271, 0.1182},   {8.257, 0.1583},   {10.799, 0.1837}, {11.904, 0.1914},
     {12.892, 0.1953},  {13.752, 0.195},   {14.472, 0.1901},  {15.05, 0.1806},  {15.501, 0.1671},
     {16.145, 0.1323},  {16.602, 0.0923},  {16.915, 0.0504},  {17.008, 0.0083}, {16.697, -0.0312},
     {15.78, -0.0622},  {15.206, -0.0739}, {14.767, -0.0861}, {14.52, -0.1001}, {14.451, -0.1142},
     {14.862, -0.1247}, {15.778, -0.1288}, {16.961, -0.1271}, {18.32, -0.1196}, {19.817, -0.1055},
     {21.42, -0.0825},  {23.1, -0.0484},   {24.824, -0.0006}, {26.565, 0.0626}, {28.302, 0.1427},
     {30.023, 0.2403},  {31.72, 0.3559},   {33.388, 0.4898},  {35.024, 0.6417}, {36.626, 0.8114},
     {38.45, 1.0313}}};

// Distance of a point from a piece of a line.
double distance(const Eigen::Vector2d& point, const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
  const Eigen::Vector2d along = b - a;
  const double at = std::clamp((point - a).dot(along) / along.squaredNorm(), 0.0, 1.0);
  return (point - a - at * along).norm();
}

}  // namespace

std::span<const PathPoint> panel_table(Panel panel) {
  if (panel == Panel::thick) return kThick;
  return kThin;
}

PanelPath follow_panel(Panel panel, const MeshChoice& choice) {
  const int n = choice.divisions;
  const mesh::SurfaceMesh flat = rectangle(kHalfAngle, kHalfLength, n, n, Disorder{choice.seed});
  const auto place = [](const Eigen::Vector3d& at) -> Eigen::Vector3d {
    return {kRadius * std::sin(at.x()), at.y(), kRadius * std::cos(at.x())};
  };
  const mesh::Blank blank = blank_of(mapped(flat, place), panel == Panel::thick ? 12.7 : 6.35);
  solver::SheetModel model = elastic_model(blank, 3102.75, 0.3, choice.bows);
  const double rim = kRadius * std::sin(kHalfAngle);
  hold(model, {symmetry_plane(0), symmetry_plane(1),
               hinge([rim](const Eigen::Vector3d& x) { return x.x() > rim - 1e-6; })});
  FollowedSheet sheet(model, node_force(model, 0, {0, 0, -kForce / 4}), kLongestStep);
  PanelPath path{{0, 0}};
  const PathPoint last = panel_table(panel).back();
  while (path.back().share < last.share || path.back().deflection < last.deflection) {
    sheet.advance();
    path.push_back({-sheet.displacement(0).z(), sheet.share()});
  }
  return path;
}

PathPoint limit_point(std::span<const PathPoint> path) {
  std::size_t i = 1;
  while (i + 2 < path.size() && !(path[i].share > path[i + 1].share && path[i].share > path[i - 1].share))
    ++i;
  const Eigen::Vector3d w(path[i - 1].deflection, path[i].deflection, path[i + 1].deflection);
  const double before = (path[i].share - path[i - 1].share) / (w(1) - w(0));
  const double after = (path[i + 1].share - path[i].share) / (w(2) - w(1));
  const double bend = (after - before) / (w(2) - w(0));
  const double top = 0.5 * (w(0) + w(1)) - 0.5 * before / bend;
  return {top, path[i - 1].share + before * (top - w(0)) + bend * (top - w(0)) * (top - w(1))};
}

double largest_distance(const PanelPath& path, std::span<const PathPoint> table) {
  const PathPoint limit = limit_point(table);
  const auto scaled = [&](const PathPoint& point) {
    return Eigen::Vector2d(point.deflection / limit.deflection, point.share / limit.share);
  };
  double largest = 0;
  for (const PathPoint& row : table) {
    double shortest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 1; i < path.size(); ++i)
      shortest = std::min(shortest, distance(scaled(row), scaled(path[i - 1]), scaled(path[i])));
    largest = std::max(largest, shortest);
  }
  return largest;
}

}  // namespace halftool::test
