#include "tests/support/curved_block.hpp"

#include <gmsh.h>

#include <cmath>
#include <fstream>
#include <regex>
#include <sstream>
#include <stdexcept>
#include <vector>

#include "mesh/gmsh_session.hpp"

namespace halftool::testing {
namespace {

namespace occ = gmsh::model::occ;

void build(const CurvedBlock& block) {
  const double half = block.width / 2;
  const double bend = block.plan_radius - std::sqrt(block.plan_radius * block.plan_radius - half * half);
  const double side = block.concave ? 1 : -1;
  const int back_right = occ::addPoint(-block.length, -half, 0);
  const int front_right = occ::addPoint(side * bend, -half, 0);
  const int front_left = occ::addPoint(side * bend, half, 0);
  const int back_left = occ::addPoint(-block.length, half, 0);
  const int centre = occ::addPoint(side * block.plan_radius, 0, 0);
  const std::vector<int> curves{occ::addLine(back_right, front_right),
                                occ::addCircleArc(front_right, centre, front_left),
                                occ::addLine(front_left, back_left), occ::addLine(back_left, back_right)};
  const int base = occ::addPlaneSurface({occ::addCurveLoop(curves)});
  gmsh::vectorpair out;
  occ::extrude({{2, base}}, 0, 0, block.height, out);
  occ::remove({{0, centre}});
  occ::synchronize();
}

/// The arc at the top, to be rounded.
int top_arc(double height) {
  gmsh::vectorpair curves;
  gmsh::model::getEntities(curves, 1);
  for (const auto& [dimension, tag] : curves) {
    std::string type;
    gmsh::model::getType(1, tag, type);
    double x0, y0, z0, x1, y1, z1;
    gmsh::model::getBoundingBox(1, tag, x0, y0, z0, x1, y1, z1);
    if (type == "Circle" && z0 > height - 0.01) return tag;
  }
  throw std::runtime_error("the block has no arc at its top");
}

/// Replaces what the exporter says about program, person and time.
void neutralise_header(const std::string& path, const std::string& name) {
  std::stringstream text;
  text << std::ifstream(path).rdbuf();
  std::string content = text.str();
  content = std::regex_replace(content, std::regex("FILE_NAME\\([^;]*;"),
                               "FILE_NAME('" + name + "','2000-01-01T00:00:00',(''),(''),'','','');");
  content = std::regex_replace(content, std::regex("FILE_DESCRIPTION\\([^=]*?\\);"),
                               "FILE_DESCRIPTION(('block with a curved edge, mm'),'2;1');");
  content = std::regex_replace(content, std::regex("Open CASCADE [^']*"), "block");
  std::ofstream(path) << content;
}

}  // namespace

void write_step(const CurvedBlock& block, const std::string& path) {
  const mesh::GmshSession session;
  session.run("writing " + path, [&] {
    build(block);
    gmsh::vectorpair solids, rounded;
    gmsh::model::getEntities(solids, 3);
    occ::fillet({solids.at(0).second}, {top_arc(block.height)}, {block.edge_radius}, rounded);
    occ::synchronize();
    gmsh::write(path);
  });
  neutralise_header(path, "block.step");
}

}  // namespace halftool::testing
