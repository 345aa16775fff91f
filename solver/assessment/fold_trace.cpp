#include "solver/assessment/fold_trace.hpp"

#include <Eigen/Geometry>

#include "solver/assessment/pressure_between.hpp"

namespace halftool::solver {
namespace {

constexpr double kBeginsToFold = 2;  // turn over the elastic one
constexpr double kAside = 0.3;       // cosine to the mean direction of a bend
constexpr double kUnloaded = 0.5;    // of the highest pressure: between two steps, not while a flange folds
constexpr double kSetOut = 1e-3;     // turn by which the elastic one is told [rad]
constexpr double kGivesWay = 2;      // turn per pressure over the least
constexpr double kFolded = 0.5;  // of the turn of its bend: a flange that has folded, whatever it began at

Eigen::Vector3d corner(const SheetFields& fields, Eigen::Index triangle, int i) {
  return fields.positions.row(fields.triangles(triangle, i));
}

/// As long as twice the triangle's area.
Eigen::Vector3d long_normal(const SheetFields& fields, Eigen::Index triangle) {
  const Eigen::Vector3d a = corner(fields, triangle, 0);
  return (corner(fields, triangle, 1) - a).cross(corner(fields, triangle, 2) - a);
}

struct Nearest {
  int bend = -1;
  double distance = std::numeric_limits<double>::infinity();  ///< in plan, from its line [mm]
  Eigen::Vector2d point{0, 0};                                ///< of its line
};

Nearest nearest_bend(const std::vector<mesh::ToolBend>& bends, const Eigen::Vector2d& plan) {
  Nearest nearest;
  for (std::size_t i = 0; i < bends.size(); ++i)
    for (const Eigen::Vector2d& point : bends[i].line) {
      const double distance = (point - plan).norm();
      if (distance < nearest.distance) nearest = {static_cast<int>(i), distance, point};
    }
  return nearest;
}

/// Whether a place in plan lies on the side of a bend that its flange hangs out on; at the ends of wide arcs
/// both do.
bool lies_beyond(const mesh::ToolBend& bend, const Nearest& nearest, const Eigen::Vector2d& plan) {
  const Eigen::Vector2d away = plan - nearest.point;
  if (!bend.outward.isZero()) return away.dot(bend.outward) > -kAside * away.norm();
  Eigen::Vector2d centre = Eigen::Vector2d::Zero();  // of a ring
  for (const Eigen::Vector2d& point : bend.line) centre += point / static_cast<double>(bend.line.size());
  const bool inside = (plan - centre).norm() < (nearest.point - centre).norm();
  return inside == (bend.plan_curvature < 0);
}

}  // namespace

FoldTrace::FoldTrace(std::vector<mesh::ToolBend> bends)
    : bends_(std::move(bends)), foldings_(bends_.size()) {}

void FoldTrace::choose(const SheetFields& fields) {
  const Eigen::Index n = fields.triangles.rows();
  bend_of_.assign(static_cast<std::size_t>(n), -1);
  first_.resize(n, 3);
  first_pressure_ = fields.pressure;
  for (Eigen::Index t = 0; t < n; ++t) {
    first_.row(t) = long_normal(fields, t);
    const bool lies_on_tool =
        fields.gap(t) < 0.5 * fields.thickness(t);  // not so far off, nor far from any tool
    if (lies_on_tool) continue;
    const Eigen::Vector3d centre = (corner(fields, t, 0) + corner(fields, t, 1) + corner(fields, t, 2)) / 3;
    const Nearest nearest = nearest_bend(bends_, centre.head<2>());
    if (nearest.bend < 0) continue;
    const mesh::ToolBend& bend = bends_[static_cast<std::size_t>(nearest.bend)];
    if (!bend.has_flange() || nearest.distance + bend.radius < 0.5 * bend.overhang ||
        !lies_beyond(bend, nearest, centre.head<2>()))
      continue;
    bend_of_[static_cast<std::size_t>(t)] = nearest.bend;
    foldings_[static_cast<std::size_t>(nearest.bend)].has_sheet = true;
  }
}

void FoldTrace::follow_stiffness(Folding& folding, double turn, double pressure) const {
  if (turn < kSetOut || pressure <= last_pressure_ || !std::isnan(folding.yields)) return;
  const double rate = (turn - folding.turn) / (pressure - last_pressure_);
  if (rate <= 0) return;  // settles
  if (rate >= kGivesWay * folding.stiffest) folding.yields = 0.5 * (last_pressure_ + pressure);
  folding.stiffest = std::min(folding.stiffest, rate);
}

void FoldTrace::follow(Folding& folding, double turn, double pressure, double full) const {
  follow_stiffness(folding, turn, pressure);
  folding.turn = turn;
  if (folding.elastic == 0) {
    if (turn > kSetOut && pressure > first_pressure_) folding.elastic = turn / (pressure - first_pressure_);
    return;
  }
  const double before = folding.excess;
  folding.excess = (turn / folding.elastic + first_pressure_) / pressure;
  if (std::isnan(folding.pressure) && folding.excess >= kBeginsToFold)
    folding.pressure = pressure_between({last_pressure_, before}, {pressure, folding.excess}, kBeginsToFold);
  if (std::isnan(folding.pressure) && turn > kFolded * full) folding.pressure = folding.yields;
}

void FoldTrace::add(const SheetFields& fields) {
  if (first_.rows() == 0) choose(fields);
  if (first_.rows() != fields.triangles.rows() || fields.pressure < kUnloaded * last_pressure_) return;
  std::vector<double> area(bends_.size(), 0), turned(bends_.size(), 0);
  for (Eigen::Index t = 0; t < first_.rows(); ++t) {
    const int bend = bend_of_[static_cast<std::size_t>(t)];
    if (bend < 0) continue;
    const Eigen::Vector3d first = first_.row(t), now = long_normal(fields, t);
    area[static_cast<std::size_t>(bend)] += first.norm();
    turned[static_cast<std::size_t>(bend)] +=
        first.norm() * std::atan2(first.cross(now).norm(), first.dot(now));
  }
  for (std::size_t i = 0; i < bends_.size(); ++i) {
    Folding& folding = foldings_[i];
    if (folding.has_sheet) follow(folding, turned[i] / area[i], fields.pressure, bends_[i].turn);
  }
  last_pressure_ = fields.pressure;
}

}  // namespace halftool::solver
