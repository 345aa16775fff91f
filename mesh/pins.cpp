#include "mesh/pins.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "mesh/nest_loops.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double rounding = 1e-9;    // a pin that just fits [mm]
constexpr double least_play = 1e-3;  // a micrometre: less is none [mm]

std::string name_of(std::size_t i, const Pin& pin) {
  return "pin " + std::to_string(i + 1) + " of " + in_mm(2 * pin.radius) + " at " + in_plane(pin.centre);
}

double room_around(const Vector2d& x, const Loop& hole) {
  return is_inside(as_polygon(hole), x) ? distance_to(hole, x) : 0;
}

PlacedPin place(const Pin& drawn, std::size_t i, const BlankSpec& spec, const PlacedOutline& outline) {
  if (!(std::isfinite(drawn.radius) && drawn.radius > 0) || !drawn.centre.allFinite())
    throw MeshError("pin " + std::to_string(i + 1) +
                    " of the blank has no radius above zero; give its diameter");
  PlacedPin placed;
  placed.pin = {spec.place + Eigen::Rotation2Dd(spec.turn) * drawn.centre, drawn.radius};
  const auto hole = std::find_if(outline.holes.begin(), outline.holes.end(),
                                 [&](const Loop& loop) { return room_around(placed.pin.centre, loop) > 0; });
  if (hole == outline.holes.end())
    throw MeshError(name_of(i, drawn) + " stands in no hole of the blank; move it into a hole, or cut one");
  placed.hole = static_cast<std::size_t>(hole - outline.holes.begin());
  placed.clearance = room_around(placed.pin.centre, *hole) - drawn.radius;
  if (placed.clearance < -rounding)
    throw MeshError(name_of(i, drawn) + " reaches " + in_mm(-placed.clearance) +
                    " past the rim of its hole; move it, make it thinner, or the hole larger");
  return placed;
}

void check_pair(const PlacedPin& a, const PlacedPin& b, const std::string& names,
                const PlacedOutline& outline) {
  if (a.hole == b.hole) throw MeshError(names + " stand in one hole; leave one of them out");
  const Vector2d along = (b.pin.centre - a.pin.centre).normalized();
  double play = 0;
  for (const PlacedPin* placed : {&a, &b})
    for (const double way : {-1.0, 1.0})
      play += travel(placed->pin, outline.holes[placed->hole], way * along);
  if (play < least_play)
    throw MeshError(names +
                    " leave the sheet no play between them; make one hole larger, or a slot towards the "
                    "other");
}

}  // namespace

double travel(const Pin& pin, const Loop& hole, const Vector2d& direction) {
  const auto fits = [&](double way) {
    return room_around(pin.centre + way * direction, hole) >= pin.radius - rounding;
  };
  // Steps of a tenth of the radius do not jump over a rim; the last one is halved down to rounding.
  double step = 0.1 * pin.radius;
  double way = 0;
  while (step > 1e-7) {
    if (fits(way + step))
      way += step;
    else
      step /= 2;
  }
  return way;
}

std::vector<PlacedPin> place_pins(const BlankSpec& spec, const PlacedOutline& outline) {
  std::vector<PlacedPin> placed;
  for (std::size_t i = 0; i < spec.pins.size(); ++i) {
    placed.push_back(place(spec.pins[i], i, spec, outline));
    for (std::size_t j = 0; j < i; ++j)
      check_pair(placed[j], placed[i], "pins " + std::to_string(j + 1) + " and " + std::to_string(i + 1),
                 outline);
  }
  return placed;
}

}  // namespace halftool::mesh
