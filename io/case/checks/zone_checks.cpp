#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>

#include "io/case/checks/case_checks.hpp"
#include "io/case/quantity.hpp"
#include "mesh/chain_curves.hpp"
#include "mesh/outline.hpp"

namespace halftool::io {
namespace {

using Polygon = std::vector<Eigen::Vector2d>;

constexpr double same = 1e-3;  // [mm]
constexpr const char* axis_names[] = {"x", "y"};

Polygon without_repeats(Polygon corners) {
  const auto repeats = [](const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
    return (a - b).norm() < same;
  };
  corners.erase(std::unique(corners.begin(), corners.end(), repeats), corners.end());
  while (corners.size() > 1 && repeats(corners.front(), corners.back())) corners.pop_back();
  return corners;
}

Polygon in_tool_frame(const Polygon& corners, const mesh::BlankSpec& blank) {
  Polygon placed;
  for (const Eigen::Vector2d& x : corners) placed.push_back(blank.place + Eigen::Rotation2Dd(blank.turn) * x);
  return placed;
}

/// What the polygon says against closing to one loop; empty: nothing.
std::string refusal_of(const Polygon& corners) {
  std::vector<mesh::PlaneCurve> sides;
  for (size_t i = 0; i < corners.size(); ++i)
    sides.emplace_back(mesh::LineCurve{corners[i], corners[(i + 1) % corners.size()]});
  try {
    mesh::chain_curves(sides);
  } catch (const mesh::MeshError& refusal) {
    const std::string message = refusal.what();
    return message.substr(0, message.rfind("; "));
  }
  return "";
}

bool overlap(const Polygon& a, const Polygon& b) {
  if (a.empty() || b.empty()) return false;
  for (size_t i = 0; i < a.size(); ++i)
    for (size_t j = 0; j < b.size(); ++j)
      if (mesh::segments_cross(a[i], a[(i + 1) % a.size()], b[j], b[(j + 1) % b.size()])) return true;
  return mesh::is_inside(a, b.front()) || mesh::is_inside(b, a.front());
}

/// What of a polygon lies above a level of a coordinate, or below it.
Polygon clipped(const Polygon& corners, int axis, double level, bool above) {
  const auto is_kept = [&](const Eigen::Vector2d& x) { return above ? x(axis) >= level : x(axis) <= level; };
  Polygon kept;
  for (size_t i = 0; i < corners.size(); ++i) {
    const Eigen::Vector2d& a = corners[i];
    const Eigen::Vector2d& b = corners[(i + 1) % corners.size()];
    if (is_kept(a)) kept.push_back(a);
    if (is_kept(a) != is_kept(b)) kept.push_back(a + (level - a(axis)) / (b(axis) - a(axis)) * (b - a));
  }
  return kept;
}

Polygon mirrored(Polygon corners, int axis) {
  for (Eigen::Vector2d& x : corners) x(axis) = -x(axis);
  return corners;
}

/// Largest distance from the corners of one polygon to the sides of the other.
double distance_from(const Polygon& corners, const Polygon& to) {
  double worst = 0;
  for (const Eigen::Vector2d& x : corners) {
    double nearest = std::numeric_limits<double>::infinity();
    for (size_t i = 0; i < to.size(); ++i)
      nearest = std::min(nearest, mesh::distance_to({to[i], to[(i + 1) % to.size()], {}, ""}, x));
    worst = std::max(worst, nearest);
  }
  return worst;
}

double difference_of(const Polygon& a, const Polygon& b) {
  return std::max(distance_from(a, b), distance_from(b, a));
}

class Zones {
 public:
  explicit Zones(const CheckedCase& c) : c_(c), blank_(c.values.blank) {
    mesh::BlankSpec own_frame = blank_;
    own_frame.place.setZero();
    own_frame.turn = 0;
    outline_ = mesh::place_outline(own_frame);
    sheet_ = mesh::as_polygon(outline_.outer);
    const mesh::PlacedOutline placed = mesh::place_outline(blank_);
    for (const FrictionZone& zone : c.values.friction_zones) {
      zones_.push_back(without_repeats(zone.corners));
      Polygon on_sheet = in_tool_frame(zones_.back(), blank_);
      for (const int axis : {0, 1}) {
        on_sheet = clipped(on_sheet, axis, placed.low(axis), true);
        on_sheet = clipped(on_sheet, axis, placed.high(axis), false);
      }
      placed_.push_back(on_sheet);
    }
  }

  void check(size_t i) const {
    const std::string key = fmt::format("lubrication.zone[{}].polygon", i + 1);
    if (!overlap(zones_[i], sheet_)) {
      c_.error(key, words(i) + " beside the blank",
               "a zone over the blank, in the blank's own frame " + extent(outline_.low, outline_.high),
               "move it onto the blank, or leave it out");
      return;
    }
    if (!c_.sound({"symmetry"})) return;
    for (const int axis : {0, 1}) {
      if (!(axis == 0 ? blank_.symmetric_x : blank_.symmetric_y)) continue;
      if (!has_mirror_image(i, axis) && !check_plane(i, axis, key)) return;
    }
  }

 private:
  [[nodiscard]] std::string words(size_t i) const {
    Eigen::Vector2d low = zones_[i].front(), high = low;
    for (const Eigen::Vector2d& x : zones_[i]) {
      low = low.cwiseMin(x);
      high = high.cwiseMax(x);
    }
    return "a zone " + extent(low, high);
  }

  [[nodiscard]] bool has_mirror_image(size_t i, int axis) const {
    const Polygon image = mirrored(placed_[i], axis);
    for (size_t j = 0; j < placed_.size(); ++j)
      if (c_.values.friction_zones[j].mu == c_.values.friction_zones[i].mu &&
          difference_of(image, placed_[j]) <= same)
        return true;
    return false;
  }

  /// @return false if an error was found
  [[nodiscard]] bool check_plane(size_t i, int axis, const std::string& key) const {
    const char* name = axis_names[axis];
    const Polygon& zone = placed_[i];
    if (!overlap(zone, clipped(in_tool_frame(sheet_, blank_), axis, same, true))) {
      c_.error(key, fmt::format("{} on the side {} < 0, which is not computed", words(i), name),
               fmt::format("zones that are the same on both sides of {} = 0", name),
               fmt::format(
                   "draw it on the side {0} > 0, of which {0} < 0 is the mirror image, or leave this plane "
                   "of symmetry out",
                   name));
      return false;
    }
    c_.warning(
        key,
        fmt::format("{} that differs by {} across {} = 0", words(i),
                    print_quantity(difference_of(mirrored(zone, axis), zone), Dimension::length, "mm"), name),
        fmt::format("zones that are the same on both sides of {} = 0", name),
        fmt::format("what lies at {0} > 0 counts for both sides: draw its mirror image too, or leave this "
                    "plane of symmetry out",
                    name));
    return true;
  }

  const CheckedCase& c_;
  const mesh::BlankSpec& blank_;
  mesh::PlacedOutline outline_;
  Polygon sheet_;                ///< without its holes
  std::vector<Polygon> zones_;   ///< in the blank's own frame, like the sheet
  std::vector<Polygon> placed_;  ///< in the tool's frame, cut to the box that holds the blank
};

}  // namespace

void check_zones(const CheckedCase& c) {
  const auto& zones = c.values.friction_zones;
  for (size_t i = 0; i < zones.size(); ++i) {
    const std::string key = fmt::format("lubrication.zone[{}].polygon", i + 1);
    if (!c.sound({key}) || !c.given(key)) continue;
    const Polygon corners = without_repeats(zones[i].corners);
    if (corners.size() < 3) {
      c.error(key, fmt::format("{} corners", corners.size()), "at least three corners", "add the corners");
      continue;
    }
    const std::string refusal = refusal_of(corners);
    if (!refusal.empty())
      c.error(key, refusal, "corners in order round a zone that does not cross itself",
              "correct the corners");
  }
  if (zones.empty() || !c.sound({"blank", "lubrication.zone"})) return;
  const Zones all(c);
  for (size_t i = 0; i < zones.size(); ++i) all.check(i);
}

}  // namespace halftool::io
