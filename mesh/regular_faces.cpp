#include "mesh/regular_faces.hpp"

#include <gmsh.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>
#include <string>

namespace halftool::mesh {
namespace {

constexpr double longest_aspect = 6;         // of regular facets
constexpr double longest_curved_aspect = 2;  // the same where the long side is curved too
// Of patches, measured on tori: facets of the diagonal kind miss the small radius by 0.8 % where the radii
// stand 1 to 10 and facets are twice as long as wide, by 0.25 % where they are as long as wide.
constexpr double even_ratio = 10;       // of the radii, up to which facets are as long as wide
constexpr double widening = 0.04;       // of a face from row to row, as on a cone, whose radius grows with it
constexpr double deep_hole = 2;         // length over diameter of a round face
constexpr double deep_aspect = 40;      // of facets along it
constexpr double widest_patch = 3;      // ratio of opposite sides
constexpr double straight_turn = 1e-4;  // of the normal along a side [rad]

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
  double aspect = 0;  ///< of facets along them, largest
  int least = 1;      ///< divisions
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
  const double turn = std::max(turn_of(first), turn_of(second));
  return {{first, second},
          turn,
          std::max(curve_length(first), curve_length(second)),
          turn > 0 ? longest_curved_aspect : longest_aspect};
}

/// The sides of a cylinder, torus or turned face that lines and arcs cut off square: opposite sides of one
/// kind, and of one length in at least one of the two directions. Nothing for any other face.
std::optional<FourSides> regular_sides(int surface) {
  const std::string type = type_of(2, surface);
  if (type != "Cylinder" && type != "Torus" && type != "Surface of Revolution") return std::nullopt;
  const auto opposite = opposite_sides(surface);
  if (!opposite || (*opposite)[1][0] == (*opposite)[1][1]) return std::nullopt;
  bool one_length = false;
  FourSides sides;
  for (std::size_t k = 0; k < 2; ++k) {
    const auto [first, second] = (*opposite)[k];
    const std::string kind = type_of(1, first);
    if ((kind != "Circle" && kind != "Line") || type_of(1, second) != kind) return std::nullopt;
    const double a = curve_length(first), b = curve_length(second);
    if (std::max(a, b) > 1.5 * std::min(a, b)) return std::nullopt;
    one_length = one_length || std::abs(a - b) < 1e-6 * a;
    sides[k] = pair_of(first, second);
  }
  if (!one_length) return std::nullopt;
  return sides;
}

int at_least(double n) {
  return std::max(1, static_cast<int>(std::ceil(n - 1e-9)));
}

/// Divisions of both pairs of sides: the turn of each facet, then the aspect of the facets.
std::array<int, 2> divisions_of(const FourSides& sides, double angle) {
  std::array<int, 2> n{};
  for (std::size_t k = 0; k < 2; ++k) n[k] = std::max(sides[k].least, at_least(sides[k].angle / angle));
  for (std::size_t k = 0; k < 2; ++k) {
    const double other = sides[1 - k].length / n[1 - k];
    n[k] = std::max(n[k], at_least(sides[k].length / (sides[k].aspect * other)));
  }
  const auto turn = [&](std::size_t k) { return sides[k].angle / n[k]; };
  while (std::hypot(turn(0), turn(1)) > angle * (1 + 1e-9)) ++n[turn(0) > turn(1) ? 0 : 1];
  return n;
}

/// Largest aspect along a curved pair of sides: between one and the usual, the more the radius along it
/// exceeds the other.
double curved_aspect(const SidePair& along, const SidePair& across) {
  const double ratio = along.length / along.angle * across.angle / across.length;
  return std::clamp(std::sqrt(ratio / even_ratio), 1.0, longest_curved_aspect);
}

/// The sides of a patch; nothing where opposite ones are too different.
std::optional<FourSides> patch_sides(const FacePatch& patch) {
  FourSides sides;
  for (std::size_t k = 0; k < 2; ++k) {
    const double a = curve_length(patch.sides[k][0]), b = curve_length(patch.sides[k][1]);
    const double ratio = std::max(a, b) / std::min(a, b);
    if (!(ratio <= widest_patch)) return std::nullopt;
    sides[k].curves = patch.sides[k];
    sides[k].angle = patch.turn[k] > straight_turn ? patch.turn[k] : 0;
    sides[k].length = std::max(a, b);
    sides[1 - k].least = at_least(std::log(ratio) / widening);
  }
  for (std::size_t k = 0; k < 2; ++k)
    sides[k].aspect = sides[k].angle > 0 ? curved_aspect(sides[k], sides[1 - k]) : longest_aspect;
  return sides;
}

/// A face that allows regular facets, with the divisions of its two pairs of sides.
struct RegularFace {
  FourSides sides;
  std::array<int, 2> divisions{};
  std::optional<FacePatch> patch = std::nullopt;  ///< to be laid here, not by Gmsh
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

/// Whether a face is a cylinder all round that is long for its diameter, as a drilled hole: facets as long as
/// wide are tens of thousands in a hole of 1.5 mm, and a sheet comes to its mouth at most.
bool is_deep_hole(int surface) {
  if (type_of(2, surface) != "Cylinder") return false;
  const auto sides = opposite_sides(surface);
  if (!sides || (*sides)[1][0] != (*sides)[1][1]) return false;
  const double diameter = curve_length((*sides)[0][0]) / std::numbers::pi;
  return curve_length((*sides)[1][0]) >= deep_hole * diameter;
}

RegularFaces choose_faces(const std::vector<int>& surfaces, double angle, const CurveSizes& sizes,
                          bool all_patches) {
  RegularFaces faces;
  for (const int surface : surfaces) {
    RegularFace face;
    const bool is_deep = is_deep_hole(surface);
    if (is_deep || (all_patches && type_of(2, surface) != "Plane")) face.patch = find_patch(surface);
    auto sides = regular_sides(surface);
    if (!sides && face.patch) sides = patch_sides(*face.patch);
    if (sides && is_deep) (*sides)[1].aspect = deep_aspect;
    if (!sides) continue;
    face.sides = *sides;
    face.divisions = divisions_of(*sides, angle);
    faces[surface] = face;
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

std::vector<LaidPatch> set_regular_faces(const GmshSession& session, const std::vector<int>& surfaces,
                                         double angle, const CurveSizes& sizes, bool all_patches) {
  std::vector<LaidPatch> patches;
  session.run("laying out the tool's facets", [&] {
    const RegularFaces faces = choose_faces(surfaces, angle, sizes, all_patches);
    const auto divisions = divisions_of_curves(faces);
    for (const auto& [curve, n] : divisions) gmsh::model::mesh::setTransfiniteCurve(curve, n + 1);
    for (const auto& [surface, face] : faces) {
      if (face.patch)
        patches.push_back({*face.patch, divisions.at(face.patch->sides[1][0])});
      else
        gmsh::model::mesh::setTransfiniteSurface(surface);
    }
  });
  return patches;
}

}  // namespace halftool::mesh
