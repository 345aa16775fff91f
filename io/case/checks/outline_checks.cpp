#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <optional>

#include "io/case/checks/case_checks.hpp"
#include "io/case/quantity.hpp"
#include "mesh/outline.hpp"
#include "mesh/pins.hpp"

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

/// Each pin alone, then with each before it: the mesher's refusal at the later one.
void check_pins(const CheckedCase& c, const mesh::PlacedOutline& outline) {
  const auto& pins = c.values.blank.pins;
  mesh::BlankSpec some = c.values.blank;
  const auto fits = [&](size_t i) {
    try {
      mesh::place_pins(some, outline);
      return true;
    } catch (const mesh::MeshError& refusal) {
      const std::string message = refusal.what();
      const auto cut = message.rfind("; ");
      c.error(fmt::format("blank.pin[{}].at", i + 1), message.substr(0, cut),
              "pins that stand in holes of the blank and leave the sheet its play", message.substr(cut + 2));
      return false;
    }
  };
  for (size_t n = 1; n <= pins.size(); ++n) {
    some.pins.assign(pins.begin(), pins.begin() + static_cast<std::ptrdiff_t>(n));
    if (!fits(n - 1)) return;
  }
}

/// Whether the mirror image of each pin is a pin too.
bool are_pins_mirrored(const CheckedCase& c, const mesh::PlacedOutline& outline, int axis) {
  const auto placed = mesh::place_pins(c.values.blank, outline);
  return std::all_of(placed.begin(), placed.end(), [&](const mesh::PlacedPin& one) {
    Eigen::Vector2d image = one.pin.centre;
    image[axis] = -image[axis];
    return std::any_of(placed.begin(), placed.end(), [&](const mesh::PlacedPin& other) {
      constexpr double same = 1e-3;
      return (other.pin.centre - image).norm() < same && std::abs(other.pin.radius - one.pin.radius) < same;
    });
  });
}

void check_symmetry(const CheckedCase& c, const mesh::PlacedOutline& outline) {
  const auto& blank = c.values.blank;
  if (!c.sound({"symmetry"}) || !c.given("symmetry.planes")) return;
  for (const int axis : {0, 1}) {
    if (!(axis == 0 ? blank.symmetric_x : blank.symmetric_y)) continue;
    const double difference =
        std::max(mirror_difference({outline.outer}, axis), mirror_difference(outline.holes, axis));
    constexpr double tolerance = 1e-3;
    if (difference <= tolerance) {
      if (!are_pins_mirrored(c, outline, axis))
        c.error("symmetry.planes",
                fmt::format("pins that are not the same across {} = 0", axis == 0 ? "x" : "y"),
                "planes across which the pins are the same on both sides",
                "leave this plane out, or move the pins");
      continue;
    }
    c.error("symmetry.planes",
            fmt::format("a blank that differs by {} across {} = 0", mm(difference), axis == 0 ? "x" : "y"),
            "planes across which the blank is the same on both sides",
            "lay the blank in the middle, or leave this plane out");
  }
}

mesh::BlankSpec sharp_cornered(mesh::BlankSpec blank) {
  blank.holes.clear();
  if (auto* rectangle = std::get_if<mesh::RectangleOutline>(&blank.outline)) rectangle->corner_radius = 0;
  if (auto* polygon = std::get_if<mesh::PolygonOutline>(&blank.outline)) polygon->corner_radii.clear();
  return blank;
}

/// Drawings often repeat the first corner at the end.
bool is_closed_twice(const CheckedCase& c) {
  const auto* polygon = std::get_if<mesh::PolygonOutline>(&c.values.blank.outline);
  if (polygon == nullptr || polygon->corners.size() < 2) return false;
  constexpr double same = 1e-3;
  if ((polygon->corners.front() - polygon->corners.back()).norm() > same) return false;
  c.error("blank.polygon", "a last corner that repeats the first", "each corner once",
          "leave the last corner out: the outline closes by itself");
  return true;
}

/// @param whole  the blank without its holes
void check_holes(const CheckedCase& c, mesh::BlankSpec whole) {
  const auto& holes = c.values.blank.holes;
  for (size_t i = 0; i < holes.size(); ++i) {
    const auto& [centre, radius] = holes[i];
    const auto key = fmt::format("blank.hole[{}].at", i + 1);
    whole.holes = {holes[i]};
    try {
      mesh::place_outline(whole);
    } catch (const mesh::MeshError&) {
      c.error(key,
              fmt::format("a hole of {} at ({:.6g}, {:.6g}) that reaches past the outline", mm(2 * radius),
                          centre.x(), centre.y()),
              "holes inside the blank",
              "move the hole, make it smaller, or draw the notch as part of the outline");
      continue;
    }
    for (size_t j = 0; j < i; ++j)
      if ((holes[j].centre - centre).norm() <= holes[j].radius + radius)
        c.error(key, fmt::format("a hole that overlaps hole {}", j + 1), "holes apart from each other",
                "move one of the two, or make it smaller");
  }
}

}  // namespace

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

std::string outline_key(const Case& values) {
  if (std::holds_alternative<BlankDrawing>(values.outline_file)) return "blank.drawing";
  if (std::holds_alternative<BlankFace>(values.outline_file)) return "blank.step";
  const auto& blank = values.blank;
  if (std::holds_alternative<mesh::RectangleOutline>(blank.outline)) return "blank.rectangle";
  if (std::holds_alternative<mesh::CircleOutline>(blank.outline)) return "blank.circle.diameter";
  return "blank.polygon";
}

void check_blank(const CheckedCase& c) {
  const auto& blank = c.values.blank;
  const auto key = outline_key(c.values);
  if (!c.sound({key, "blank.layer", "blank.length_unit"}) || is_closed_twice(c)) return;
  if (!placed(c, sharp_cornered(blank), key, "corners in order around the blank, at least three")) return;
  if (!c.sound({"blank.corner_radius", "blank.corner_radii"})) return;
  mesh::BlankSpec whole = blank;
  whole.holes.clear();
  const bool rectangle = std::holds_alternative<mesh::RectangleOutline>(blank.outline);
  if (!placed(c, whole, rectangle ? "blank.corner_radius" : "blank.corner_radii",
              "radii that fit on the sides"))
    return;
  if (!c.sound({"blank.hole"})) return;
  check_holes(c, whole);
  if (!c.sound({"blank"})) return;
  check_pins(c, mesh::place_outline(blank));
  if (c.sound({"blank.pin"})) check_symmetry(c, mesh::place_outline(blank));
}

}  // namespace halftool::io
