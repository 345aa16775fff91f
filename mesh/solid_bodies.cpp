#include "mesh/solid_bodies.hpp"

#include <gmsh.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>
#include <sstream>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {
namespace {

namespace occ = gmsh::model::occ;

/// Two bodies may share so much of the smaller one: rounding of faces that lie on each other.
constexpr double allowed_overlap = 1e-6;
constexpr double level_share = 1e-3;  // of the extent: bodies this near the lowest level stand on it

double volume_of(const Entities& entities) {
  double volume = 0;
  for (const auto& [dimension, tag] : entities) {
    double mass = 0;
    occ::getMass(dimension, tag, mass);
    volume += mass;
  }
  return volume;
}

Eigen::AlignedBox3d box_of(const std::pair<int, int>& body) {
  Eigen::Vector3d low, high;
  occ::getBoundingBox(body.first, body.second, low.x(), low.y(), low.z(), high.x(), high.y(), high.z());
  return {low, high};
}

}  // namespace

Entities solids() {
  Entities all;
  occ::getEntities(all, 3);
  return all;
}

void refuse_overlap(const Entities& standing, const Entities& added, const std::string& name,
                    const std::string& mend) {
  Entities common;
  std::vector<Entities> map;
  occ::intersect(standing, added, common, map, -1, false, false);
  std::erase_if(common, [](const auto& entity) { return entity.first != 3; });
  const double shared = volume_of(common);
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  if (!common.empty())
    occ::getCenterOfMass(common.back().first, common.back().second, centre.x(), centre.y(), centre.z());
  occ::remove(common, true);
  const double smaller = std::min(volume_of(standing), volume_of(added));
  if (shared <= allowed_overlap * smaller) return;
  const Eigen::Vector3d at = (1e3 * centre).array().round() / 1e3 + 0.0;  // no -0
  std::ostringstream text;
  text << name << " by " << shared << " mm3 about (" << at.x() << ", " << at.y() << ", " << at.z() << ") mm; "
       << mend;
  throw MeshError(text.str());
}

void join_solids(const Entities& bodies, const std::string& name) {
  Entities standing;
  for (const auto& body : bodies) {
    if (!standing.empty())
      refuse_overlap(standing, {body}, "bodies of " + name + " overlap",
                     "unite them in the CAD model, or leave one out, and export it again");
    standing.push_back(body);
  }
  // Faces that go on from body to body stay apart: merged, a fillet's sides are split and it gets no regular
  // facets (a block cut in halves: 40,000 for 4,000).
  gmsh::option::setNumber("Geometry.OCCUnionUnify", 0);
  Entities joined;
  std::vector<Entities> map;
  occ::fuse({bodies.front()}, Entities(bodies.begin() + 1, bodies.end()), joined, map);
  gmsh::option::setNumber("Geometry.OCCUnionUnify", 1);
}

std::vector<std::string> note_bodies_in_the_air() {
  std::vector<Eigen::AlignedBox3d> boxes;
  Eigen::AlignedBox3d whole;
  for (const auto& body : solids()) {
    boxes.push_back(box_of(body));
    whole.extend(boxes.back());
  }
  std::vector<std::string> notes;
  for (const auto& box : boxes) {
    if (box.min().z() <= whole.min().z() + level_share * whole.sizes().norm()) continue;
    const Eigen::IOFormat commas(4, Eigen::DontAlignCols, ", ", ", ", "", "", "(", ")");
    std::ostringstream text;
    text << "a body from " << box.min().format(commas) << " to " << box.max().format(commas)
         << " mm neither stands on the lowest level nor touches a body that does; it is pressed on as it "
            "hangs "
            "there: leave out what is no part of the tool half";
    notes.push_back(text.str());
  }
  return notes;
}

}  // namespace halftool::mesh
