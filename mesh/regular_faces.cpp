#include "mesh/regular_faces.hpp"

#include <gmsh.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <string>

namespace halftool::mesh {
namespace {

constexpr double longest_aspect = 6;         // of regular facets
constexpr double longest_curved_aspect = 2;  // the same where the long side is curved too

std::string type_of(int dimension, int tag) {
  std::string type;
  gmsh::model::getType(dimension, tag, type);
  return type;
}

/// Two opposite sides of a four-sided face.
struct SidePair {
  std::array<int, 2> curves;
  double angle = 0;   ///< larger turn of the two [rad]
  double length = 0;  ///< larger of the two [mm]
};
using FourSides = std::array<SidePair, 2>;

double curve_length(int curve) {
  double length = 0;
  gmsh::model::occ::getMass(1, curve, length);
  return length;
}

double turn_of(int curve) {
  if (type_of(1, curve) != "Circle") return 0;
  std::vector<double> low, high, curvature;
  gmsh::model::getParametrizationBounds(1, curve, low, high);
  gmsh::model::getCurvature(1, curve, {0.5 * (low.at(0) + high.at(0))}, curvature);
  return curve_length(curve) * curvature.at(0);
}

SidePair pair_of(int first, int second) {
  return {{first, second},
          std::max(turn_of(first), turn_of(second)),
          std::max(curve_length(first), curve_length(second))};
}

bool share_a_point(int first, int second) {
  gmsh::vectorpair a, b;
  gmsh::model::getBoundary({{1, first}}, a, false, false, false);
  gmsh::model::getBoundary({{1, second}}, b, false, false, false);
  return std::any_of(a.begin(), a.end(),
                     [&](const auto& point) { return std::find(b.begin(), b.end(), point) != b.end(); });
}

/// The sides of a cylinder, torus or turned face that lines and arcs cut off square: opposite sides of one
/// kind, and of one length in at least one of the two directions. Nothing for any other face.
std::optional<FourSides> regular_sides(int surface) {
  const std::string type = type_of(2, surface);
  if (type != "Cylinder" && type != "Torus" && type != "Surface of Revolution") return std::nullopt;
  gmsh::vectorpair boundary;
  gmsh::model::getBoundary({{2, surface}}, boundary, true, false, false);
  std::vector<int> curves;
  for (const auto& [dimension, curve] : boundary) {
    const std::string curve_type = type_of(1, curve);
    if (curve_type != "Circle" && curve_type != "Line") return std::nullopt;
    if (std::find(curves.begin(), curves.end(), curve) == curves.end()) curves.push_back(curve);
  }
  if (boundary.size() != 4 || curves.size() != 4) return std::nullopt;
  const auto opposite =
      std::find_if(curves.begin() + 1, curves.end(), [&](int c) { return !share_a_point(curves[0], c); });
  if (opposite == curves.end()) return std::nullopt;
  std::swap(curves[1], *opposite);
  if (share_a_point(curves[2], curves[3])) return std::nullopt;
  bool one_length = false;
  for (const std::size_t k : {0U, 2U}) {
    if (type_of(1, curves[k]) != type_of(1, curves[k + 1])) return std::nullopt;
    const double a = curve_length(curves[k]);
    const double b = curve_length(curves[k + 1]);
    if (std::max(a, b) > 1.5 * std::min(a, b)) return std::nullopt;
    one_length = one_length || std::abs(a - b) < 1e-6 * a;
  }
  if (!one_length) return std::nullopt;
  return FourSides{pair_of(curves[0], curves[1]), pair_of(curves[2], curves[3])};
}

int at_least(double n) {
  return std::max(1, static_cast<int>(std::ceil(n - 1e-9)));
}

/// Divisions of both pairs of sides: the turn of each facet, then the aspect of the facets.
std::array<int, 2> divisions_of(const FourSides& sides, double angle) {
  std::array<int, 2> n{};
  for (std::size_t k = 0; k < 2; ++k) n[k] = at_least(sides[k].angle / angle);
  for (std::size_t k = 0; k < 2; ++k) {
    const double other = sides[1 - k].length / n[1 - k];
    const double aspect = sides[k].angle > 0 ? longest_curved_aspect : longest_aspect;
    n[k] = std::max(n[k], at_least(sides[k].length / (aspect * other)));
  }
  const auto turn = [&](std::size_t k) { return sides[k].angle / n[k]; };
  while (std::hypot(turn(0), turn(1)) > angle * (1 + 1e-9)) ++n[turn(0) > turn(1) ? 0 : 1];
  return n;
}

/// A face that allows regular facets, with the divisions of its two pairs of sides.
struct RegularFace {
  FourSides sides;
  std::array<int, 2> divisions;
};
using RegularFaces = std::map<int, RegularFace>;

/// Whether a neighbour that is meshed irregularly needs much shorter edges along a common side than the
/// regular facets.
bool hinders_neighbour(const RegularFaces& faces, int surface, const RegularFace& face,
                       const CurveSizes& sizes) {
  for (std::size_t k = 0; k < 2; ++k) {
    const double spacing = face.sides[k].length / face.divisions[k];
    for (const int curve : face.sides[k].curves) {
      for (const auto& [other, size] : sizes.demands_on(curve)) {
        if (other != surface && !faces.contains(other) && spacing > 1.5 * size) return true;
      }
    }
  }
  return false;
}

RegularFaces choose_faces(const std::vector<int>& surfaces, double angle, const CurveSizes& sizes) {
  RegularFaces faces;
  for (const int surface : surfaces) {
    if (const auto sides = regular_sides(surface)) faces[surface] = {*sides, divisions_of(*sides, angle)};
  }
  const auto hinders = [&](const auto& entry) {
    return hinders_neighbour(faces, entry.first, entry.second, sizes);
  };
  for (auto found = std::find_if(faces.begin(), faces.end(), hinders); found != faces.end();
       found = std::find_if(faces.begin(), faces.end(), hinders)) {
    faces.erase(found);
  }
  return faces;
}

/// Divisions of each side; sides that two regular faces share, and opposite sides, get the larger number of
/// the two.
std::map<int, int> divisions_of_curves(const RegularFaces& faces) {
  std::map<int, int> divisions;
  for (const auto& [surface, face] : faces) {
    for (std::size_t k = 0; k < 2; ++k) {
      for (const int curve : face.sides[k].curves)
        divisions[curve] = std::max(divisions[curve], face.divisions[k]);
    }
  }
  for (bool changed = true; changed;) {
    changed = false;
    for (const auto& [surface, face] : faces) {
      for (const auto& pair : face.sides) {
        int& a = divisions[pair.curves[0]];
        int& b = divisions[pair.curves[1]];
        changed = changed || a != b;
        a = b = std::max(a, b);
      }
    }
  }
  return divisions;
}

}  // namespace

void set_regular_faces(const GmshSession& session, const std::vector<int>& surfaces, double angle,
                       const CurveSizes& sizes) {
  session.run("laying out the tool's facets", [&] {
    const RegularFaces faces = choose_faces(surfaces, angle, sizes);
    for (const auto& [curve, n] : divisions_of_curves(faces))
      gmsh::model::mesh::setTransfiniteCurve(curve, n + 1);
    for (const auto& [surface, face] : faces) gmsh::model::mesh::setTransfiniteSurface(surface);
  });
}

}  // namespace halftool::mesh
