#include "mesh/step_shape.hpp"

#include <gmsh.h>

#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepBuilderAPI_Sewing.hxx>
#include <BRep_Tool.hxx>
#include <Eigen/Geometry>
#include <STEPControl_Reader.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <algorithm>
#include <filesystem>
#include <sstream>

#include "mesh/solid_bodies.hpp"
#include "mesh/step_trial.hpp"

namespace halftool::mesh {
namespace {

namespace occ = gmsh::model::occ;

/// Edges closer than this are one: what CAD programs commonly take for closed (no source) [mm].
constexpr double sewn_within = 0.01;

Entities import_file(const std::string& path) {
  Entities out;
  occ::importShapes(path, out, true, "step");
  return out;
}

/// The faces of a file without solids, sewn together; those that close become solids.
TopoDS_Shape sewn_faces(const std::string& path) {
  STEPControl_Reader reader;
  if (reader.ReadFile(path.c_str()) != IFSelect_RetDone) throw MeshError(path + " cannot be read again");
  reader.TransferRoots();
  BRepBuilderAPI_Sewing sewing(sewn_within);
  sewing.Add(reader.OneShape());
  sewing.Perform();
  const TopoDS_Shape& sewn = sewing.SewedShape();
  if (sewn.ShapeType() == TopAbs_SHELL && BRep_Tool::IsClosed(sewn))
    return BRepBuilderAPI_MakeSolid(TopoDS::Shell(sewn)).Solid();
  return sewn;
}

Entities import_sewn(const std::string& path) {
  const TopoDS_Shape sewn = sewn_faces(path);
  Entities out;
  occ::importShapesNativePointer(&sewn, out, true);
  return out;
}

/// A damaged number sends the mesher on an endless way.
void refuse_giant(const Entities& entities, const std::string& name) {
  constexpr double largest = 1e5;  // [mm]; the trays of presses are a few metres long
  double extent = 0;
  for (const auto& [dimension, tag] : entities) {
    Eigen::Vector3d low, high;
    occ::getBoundingBox(dimension, tag, low.x(), low.y(), low.z(), high.x(), high.y(), high.z());
    extent = std::max(extent, (high - low).norm());
  }
  if (extent <= largest) return;
  std::ostringstream text;
  text << name << " holds a shape that is " << extent / 1000
       << " m large; look for faces far off and at the unit in CAD, then " << step_mend;
  throw MeshError(text.str());
}

void put_in_place(const Entities& entities, const Placement& placement) {
  const auto turn = [&](const Eigen::AngleAxisd& by) {
    occ::rotate(entities, 0, 0, 0, by.axis().x(), by.axis().y(), by.axis().z(), by.angle());
  };
  if (placement.press_axis != PressAxis::plus_z) turn(upright(placement.press_axis));
  turn({placement.turn, Eigen::Vector3d::UnitZ()});
  occ::translate(entities, placement.place.x(), placement.place.y(), placement.place.z());
}

bool holds_solids(const Entities& entities) {
  return !entities.empty() && entities.front().first == 3;
}

/// What the shape is after all, against what the file says of it.
std::vector<std::string> compare(const StepLook& look, int n_solids, bool is_sewn, const std::string& name) {
  std::vector<std::string> doubts;
  const auto add = [&](const auto&... words) {
    std::ostringstream text;
    text << name << ' ';
    (text << ... << words);
    doubts.push_back(text.str());
  };
  if (is_sewn && n_solids > 0)
    add("holds faces that were joined to a solid where their edges lie within ", sewn_within,
        " mm: export it as a solid");
  else if (n_solids > 0 && n_solids < look.n_solids)
    add("describes ", look.n_solids, " solids, of which only ", n_solids,
        " could be built; the others are left out: look at them in CAD and export it again");
  if (!is_sewn && look.n_surfaces > 0)
    add("holds surfaces beside its solids, which are left out: check that they are no part of the tool half");
  return doubts;
}

}  // namespace

std::vector<std::string> add_step_shape(const StepShape& shape) {
  if (!std::filesystem::is_regular_file(shape.path)) {
    throw MeshError("there is no STEP file '" + shape.path +
                    "'; give the path of an existing .step or .stp file");
  }
  const std::string name = std::filesystem::path(shape.path).filename().string();
  const StepLook look = try_step_file(shape.path, [&] {
    const Entities out = import_file(shape.path);
    if (!out.empty() && !holds_solids(out)) sewn_faces(shape.path);
  });
  Entities out;
  std::string reason;
  try {
    out = import_file(shape.path);
  } catch (const std::string& message) {
    reason = " (" + message + ")";
  }
  if (out.empty()) {
    throw MeshError("'" + shape.path + "' cannot be read as STEP, or holds no shape" + reason + "; " +
                    step_mend);
  }
  const bool is_sewn = out.front().first == 2;
  if (is_sewn) {
    occ::remove(out, true);
    out = import_sewn(shape.path);
  }
  refuse_giant(out, name);
  put_in_place(out, shape.placement);
  const int n_solids = holds_solids(out) ? static_cast<int>(out.size()) : 0;
  if (n_solids > 1) join_solids(out, name);
  return compare(look, n_solids, is_sewn, name);
}

}  // namespace halftool::mesh
