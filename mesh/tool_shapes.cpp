#include "mesh/tool_shapes.hpp"

#include <gmsh.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <sstream>
#include <type_traits>
#include <vector>

#include "mesh/solid_bodies.hpp"
#include "mesh/step_shape.hpp"

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

void build(const StlShape& /*shape*/) {
  throw MeshError("an STL file holds facets, no CAD faces");
}

/// @param doubts  of the shape, appended
void build_any(const ToolShape& shape, std::vector<std::string>& doubts) {
  const auto build_one = [&](const auto& one) {
    if constexpr (std::is_same_v<std::decay_t<decltype(one)>, StepShape>)
      for (std::string& doubt : add_step_shape(one)) doubts.push_back(std::move(doubt));
    else
      build(one);
  };
  std::visit(build_one, shape);
}

void join(const ToolShape& insert, std::vector<std::string>& doubts) {
  const gmsh::vectorpair standing = solids();
  build_any(insert, doubts);
  gmsh::vectorpair added = solids();
  std::erase_if(added, [&](const auto& solid) {
    return std::find(standing.begin(), standing.end(), solid) != standing.end();
  });
  if (standing.empty() || added.empty())
    throw MeshError(describe(insert) + ": inserts and the tool half that they stand with must be solids; " +
                    "export them as solids, not as open faces");
  refuse_overlap(standing, added, describe(insert) + " overlaps the tool",
                 "move it, or cut its seat out of the tool half");
  gmsh::vectorpair joined;
  std::vector<gmsh::vectorpair> map;
  occ::fuse(standing, added, joined, map);
}

}  // namespace

std::vector<std::string> build_shape(const GmshSession& session, const ToolShape& shape,
                                     const std::vector<ToolShape>& inserts) {
  std::vector<std::string> doubts;
  session.run("building the tool", [&] {
    build_any(shape, doubts);
    occ::synchronize();
  });
  if (!inserts.empty())
    session.run("joining the inserts with the tool", [&] {
      for (const ToolShape& insert : inserts) join(insert, doubts);
      occ::synchronize();
    });
  session.run("looking at the tool's bodies", [&] {
    for (std::string& doubt : note_bodies_in_the_air()) doubts.push_back(std::move(doubt));
  });
  return doubts;
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
