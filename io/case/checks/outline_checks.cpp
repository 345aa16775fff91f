#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <optional>

#include "io/case/checks/case_checks.hpp"
#include "io/case/quantity.hpp"
#include "mesh/outline.hpp"

namespace halftool::io {
namespace {

std::string mm(double length) {
  return print_quantity(length, Dimension::length, "mm");
}

/// The mesher's own check of an outline; what it refuses is reported at the key.
std::optional<mesh::PlacedOutline> placed(const CheckedCase& c, const mesh::BlankSpec& blank,
                                          const std::string& key, const std::string& allowed) {
  try {
    return mesh::place_outline(blank);
  } catch (const mesh::MeshError& refusal) {
    const std::string message = refusal.what();
    const auto cut = message.rfind("; ");
    c.error(key, message.substr(0, cut), allowed,
            cut == std::string::npos ? "correct the outline" : message.substr(cut + 2));
    return std::nullopt;
  }
}

/// Largest distance from the mirrored curves to the curves themselves [mm].
double mirror_difference(const std::vector<mesh::Loop>& loops, int axis) {
  double worst = 0;
  for (const auto& loop : loops) {
    for (auto image : mesh::as_polygon(loop)) {
      image[axis] = -image[axis];
      double nearest = std::numeric_limits<double>::infinity();
      for (const auto& other : loops)
        for (const auto& piece : other) nearest = std::min(nearest, mesh::distance_to(piece, image));
      worst = std::max(worst, nearest);
    }
  }
  return worst;
}

void check_symmetry(const CheckedCase& c, const mesh::PlacedOutline& outline) {
  const auto& blank = c.values.blank;
  if (!c.sound({"symmetry"}) || !c.given("symmetry.planes")) return;
  for (const int axis : {0, 1}) {
    if (!(axis == 0 ? blank.symmetric_x : blank.symmetric_y)) continue;
    const double difference =
        std::max(mirror_difference({outline.outer}, axis), mirror_difference(outline.holes, axis));
    constexpr double tolerance = 1e-3;
    if (difference <= tolerance) continue;
    c.error("symmetry.planes",
            fmt::format("a blank that differs by {} across {} = 0", mm(difference), axis == 0 ? "x" : "y"),
            "planes across which the blank is the same on both sides",
            "lay the blank in the middle, or leave this plane out");
  }
}

}  // namespace

std::string outline_key(const mesh::BlankSpec& blank) {
  if (std::holds_alternative<mesh::RectangleOutline>(blank.outline)) return "blank.rectangle";
  if (std::holds_alternative<mesh::CircleOutline>(blank.outline)) return "blank.circle.diameter";
  return "blank.polygon";
}

void check_blank(const CheckedCase& c) {
  const auto key = outline_key(c.values.blank);
  if (!c.sound({key, "blank.corner_radius", "blank.corner_radii"})) return;
  mesh::BlankSpec without_holes = c.values.blank;
  without_holes.holes.clear();
  if (!placed(c, without_holes, key, "an outline that does not cross itself")) return;
  if (!c.sound({"blank"})) return;
  const auto outline =
      placed(c, c.values.blank, "blank.hole[1].at", "holes inside the blank, apart from each other");
  if (outline) check_symmetry(c, *outline);
}

}  // namespace halftool::io
