#include "mesh/tool_shapes.hpp"

#include <gmsh.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <sstream>
#include <vector>

#include "mesh/step_trial.hpp"

namespace halftool::mesh {
namespace {

namespace occ = gmsh::model::occ;
constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

void require_positive(const std::string& what, double value) {
  if (std::isfinite(value) && value > 0) return;
  std::ostringstream text;
  text << "the " << what << " of the tool is " << value << " mm; give a length above zero";
  throw MeshError(text.str());
}

[[noreturn]] void refuse(const std::string& what, double value, const std::string& mend) {
  std::ostringstream text;
  text << "the " << what << " of the tool is " << value << "; " << mend;
  throw MeshError(text.str());
}

std::string millimetres(double value) {
  std::ostringstream text;
  text << value << " mm";
  return text.str();
}

/// A line of straight pieces and arcs in the plane y = y0, built up point by point.
class Profile {
 public:
  Profile(double x, double z, double y0) : y0_(y0), last_(add_point(x, z)) {}

  void line_to(double x, double z) {
    const int next = add_point(x, z);
    curves_.push_back(occ::addLine(last_, next));
    last_ = next;
  }
  /// Arc of less than half a turn.
  void arc_to(double x, double z, double centre_x, double centre_z) {
    const int next = add_point(x, z);
    curves_.push_back(occ::addCircleArc(last_, add_point(centre_x, centre_z), next));
    last_ = next;
  }
  [[nodiscard]] const std::vector<int>& curves() const { return curves_; }

 private:
  [[nodiscard]] int add_point(double x, double z) const { return occ::addPoint(x, y0_, z); }
  double y0_;
  int last_;
  std::vector<int> curves_;
};

/// The solid between y = -width/2 and y = width/2 over a closed profile.
void extrude_profile(const Profile& profile, double width) {
  const int face = occ::addPlaneSurface({occ::addCurveLoop(profile.curves())});
  gmsh::vectorpair out;
  occ::extrude({{2, face}}, 0, width, 0, out);
}

void check(const StraightBlock& block) {
  require_positive("length", block.length);
  require_positive("width", block.width);
  require_positive("height", block.height);
  require_positive("edge radius", block.edge_radius);
  const double angle = block.wall_angle;
  if (!(angle >= 5 * degree && angle <= 150 * degree)) {
    refuse("wall angle [deg]", angle / degree, "it may lie between 5 and 150 degrees");
  }
  if (2 * block.edge_radius >= block.length) {
    refuse("edge radius [mm]", block.edge_radius,
           "it must be less than half the block's length of " + millimetres(block.length));
  }
  const double drop = block.edge_radius * (1 - std::cos(angle));
  if (drop >= block.height) {
    refuse("height [mm]", block.height, "the edge radius alone takes " + millimetres(drop));
  }
}

void build(const StraightBlock& block) {
  check(block);
  const double r = block.edge_radius;
  const double h = block.height;
  const double c = block.length / 2 - r;  // x of the fillet's axis
  const double s = std::sin(block.wall_angle);
  const double k = std::cos(block.wall_angle);
  const double wall_top_x = c + r * s;
  const double wall_top_z = h - r * (1 - k);
  const double foot = wall_top_x + wall_top_z * k / s;
  if (foot < 0.02 * block.length) {
    refuse("wall angle [deg]", block.wall_angle / degree,
           "the walls lean in so far that they meet above the floor; give a longer or lower block");
  }
  Profile profile(-foot, 0, -block.width / 2);
  profile.line_to(-wall_top_x, wall_top_z);
  profile.arc_to(-c, h, -c, h - r);
  profile.line_to(c, h);
  profile.arc_to(wall_top_x, wall_top_z, c, h - r);
  profile.line_to(foot, 0);
  profile.line_to(-foot, 0);
  extrude_profile(profile, block.width);
}

void build(const CylinderBlock& block) {
  require_positive("radius", block.radius);
  require_positive("width", block.width);
  require_positive("height", block.height);
  if (block.height < block.radius * (1 - 1e-12)) {
    refuse("crown height [mm]", block.height,
           "it must be at least the radius of " + millimetres(block.radius));
  }
  const double r = block.radius;
  const double axis = block.height - r;
  const bool has_walls = axis > 1e-9 * r;
  const double foot = has_walls ? axis : 0;
  Profile profile(-r, has_walls ? 0 : foot, -block.width / 2);
  if (has_walls) profile.line_to(-r, axis);
  profile.arc_to(0, foot + r, 0, foot);  // two quarters, so that facet corners lie on the crown
  profile.arc_to(r, foot, 0, foot);
  if (has_walls) profile.line_to(r, 0);
  profile.line_to(-r, 0);
  extrude_profile(profile, block.width);
}

void check(const RoundCavity& cavity) {
  require_positive("opening radius", cavity.opening_radius);
  require_positive("entry radius", cavity.entry_radius);
  require_positive("depth", cavity.depth);
  require_positive("outer radius", cavity.outer_radius);
  if (cavity.entry_radius > cavity.depth) {
    refuse("entry radius [mm]", cavity.entry_radius,
           "it must not exceed the cavity's depth of " + millimetres(cavity.depth));
  }
  const double lip = cavity.opening_radius + cavity.entry_radius;
  if (cavity.outer_radius <= lip) {
    refuse("outer radius [mm]", cavity.outer_radius,
           "opening and entry radius already reach " + millimetres(lip) + "; the rim must reach farther");
  }
}

void build(const RoundCavity& cavity) {
  check(cavity);
  const double a = cavity.opening_radius;
  const double r = cavity.entry_radius;
  Profile profile(a, -cavity.depth, 0);
  if (cavity.depth > r * (1 + 1e-9)) profile.line_to(a, -r);
  profile.arc_to(a + r, 0, a + r, -r);
  profile.line_to(cavity.outer_radius, 0);
  profile.line_to(cavity.outer_radius, -cavity.depth);
  profile.line_to(a, -cavity.depth);
  const int section = occ::addPlaneSurface({occ::addCurveLoop(profile.curves())});
  // Four quarters, so that every face has four sides; the solids are joined at their common sections.
  gmsh::vectorpair quarters;
  for (int i = 0; i < 4; ++i) {
    gmsh::vectorpair copy, out;
    occ::copy({{2, section}}, copy);
    occ::rotate(copy, 0, 0, 0, 0, 0, 1, i * pi / 2);
    occ::revolve(copy, 0, 0, 0, 0, 0, 1, pi / 2, out);
    for (const auto& entity : out) {
      if (entity.first == 3) quarters.push_back(entity);
    }
  }
  occ::remove({{2, section}}, true);
  gmsh::vectorpair joined;
  std::vector<gmsh::vectorpair> map;
  occ::fragment(quarters, {}, joined, map);
}

/// A damaged number sends the mesher on an endless way.
void refuse_giant(const gmsh::vectorpair& entities, const std::string& path) {
  constexpr double largest = 1e5;  // [mm]; the trays of presses are a few metres long
  double extent = 0;
  for (const auto& [dimension, tag] : entities) {
    Eigen::Vector3d low, high;
    occ::getBoundingBox(dimension, tag, low.x(), low.y(), low.z(), high.x(), high.y(), high.z());
    extent = std::max(extent, (high - low).norm());
  }
  if (extent <= largest) return;
  std::ostringstream text;
  text << "'" << path << "' holds a shape that is " << extent / 1000
       << " m large; look for faces far off and at the unit in CAD, then " << step_mend;
  throw MeshError(text.str());
}

void build(const StepShape& shape) {
  if (!std::filesystem::is_regular_file(shape.path)) {
    throw MeshError("there is no STEP file '" + shape.path +
                    "'; give the path of an existing .step or .stp file");
  }
  const auto import = [&] {
    gmsh::vectorpair out;
    occ::importShapes(shape.path, out, true, "step");
    return out;
  };
  try_step_file(shape.path, import);
  gmsh::vectorpair out;
  std::string reason;
  try {
    out = import();
  } catch (const std::string& message) {
    reason = " (" + message + ")";
  }
  if (out.empty()) {
    throw MeshError("'" + shape.path + "' cannot be read as STEP, or holds no shape" + reason + "; " +
                    step_mend);
  }
  refuse_giant(out, shape.path);
  const auto turn = [&](const Eigen::AngleAxisd& by) {
    occ::rotate(out, 0, 0, 0, by.axis().x(), by.axis().y(), by.axis().z(), by.angle());
  };
  const Placement& placement = shape.placement;
  if (placement.press_axis != PressAxis::plus_z) turn(upright(placement.press_axis));
  turn({placement.turn, Eigen::Vector3d::UnitZ()});
  occ::translate(out, placement.place.x(), placement.place.y(), placement.place.z());
}

void build(const StlShape& /*shape*/) {
  throw MeshError("an STL file holds facets, no CAD faces");
}

/// Solids of the model.
gmsh::vectorpair solids() {
  gmsh::vectorpair all;
  occ::getEntities(all, 3);
  return all;
}

/// Two bodies may share so much of the smaller one: rounding of faces that lie on each other.
constexpr double allowed_overlap = 1e-6;

void check_overlap(const gmsh::vectorpair& standing, const gmsh::vectorpair& insert,
                   const std::string& name) {
  gmsh::vectorpair common;
  std::vector<gmsh::vectorpair> map;
  occ::intersect(standing, insert, common, map, -1, false, false);
  double volume = 0;
  double shared = 0;
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  for (const auto& [dimension, tag] : insert) {
    double mass = 0;
    occ::getMass(dimension, tag, mass);
    volume += mass;
  }
  for (const auto& [dimension, tag] : common) {
    if (dimension != 3) continue;
    double mass = 0;
    occ::getMass(dimension, tag, mass);
    shared += mass;
    occ::getCenterOfMass(dimension, tag, centre.x(), centre.y(), centre.z());
  }
  occ::remove(common, true);
  if (shared <= allowed_overlap * volume) return;
  std::ostringstream text;
  text << name << " overlaps the tool by " << shared << " mm3 about (" << centre.transpose()
       << "); move it, or cut its seat out of the tool half";
  throw MeshError(text.str());
}

void join(const ToolShape& insert) {
  const gmsh::vectorpair standing = solids();
  std::visit([](const auto& one) { build(one); }, insert);
  gmsh::vectorpair added = solids();
  std::erase_if(added, [&](const auto& solid) {
    return std::find(standing.begin(), standing.end(), solid) != standing.end();
  });
  if (standing.empty() || added.empty())
    throw MeshError(describe(insert) + ": inserts and the tool half that they stand with must be solids; " +
                    "export them as solids, not as open faces");
  check_overlap(standing, added, describe(insert));
  gmsh::vectorpair joined;
  std::vector<gmsh::vectorpair> map;
  occ::fuse(standing, added, joined, map);
}

}  // namespace

void build_shape(const GmshSession& session, const ToolShape& shape) {
  session.run("building the tool", [&] {
    std::visit([](const auto& one) { build(one); }, shape);
    occ::synchronize();
  });
}

void build_shape(const GmshSession& session, const ToolShape& shape, const std::vector<ToolShape>& inserts) {
  build_shape(session, shape);
  if (inserts.empty()) return;
  session.run("joining the inserts with the tool", [&] {
    for (const ToolShape& insert : inserts) join(insert);
    occ::synchronize();
  });
}

std::string describe(const ToolShape& shape) {
  std::ostringstream text;
  if (const auto* block = std::get_if<StraightBlock>(&shape)) {
    text << "straight block " << block->length << " x " << block->width << " x " << block->height
         << " mm, edge radius " << block->edge_radius << " mm, wall angle " << block->wall_angle / degree
         << " degrees";
  } else if (const auto* cylinder = std::get_if<CylinderBlock>(&shape)) {
    text << "cylinder block of radius " << cylinder->radius << " mm, " << cylinder->width << " mm wide";
  } else if (const auto* cavity = std::get_if<RoundCavity>(&shape)) {
    text << "round cavity of radius " << cavity->opening_radius << " mm, entry radius "
         << cavity->entry_radius << " mm, " << cavity->depth << " mm deep";
  } else {
    const auto* step = std::get_if<StepShape>(&shape);
    text << "shape from "
         << std::filesystem::path(step != nullptr ? step->path : std::get<StlShape>(shape).path)
                .filename()
                .string();
  }
  return text.str();
}

}  // namespace halftool::mesh
