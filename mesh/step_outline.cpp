#include "mesh/step_outline.hpp"

#include <BRepAdaptor_Curve.hxx>
#include <BRepAdaptor_Surface.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <Eigen/Geometry>
#include <GProp_GProps.hxx>
#include <GeomConvert.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <STEPControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <algorithm>
#include <cmath>
#include <optional>

#include "mesh/gmsh_session.hpp"
#include "mesh/step_trial.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

Vector3d to_eigen(const gp_XYZ& x) {
  return {x.X(), x.Y(), x.Z()};
}

/// The side of a plane from which it is looked at.
Vector3d chosen_side(const Vector3d& normal) {
  constexpr double none = 1e-9;
  for (const int axis : {2, 1, 0})
    if (std::abs(normal(axis)) > none) return normal(axis) > 0 ? normal : Vector3d(-normal);
  return normal;
}

/// Places of the file seen in the plane of the face.
class Flat {
 public:
  explicit Flat(const TopoDS_Face& face) {
    const gp_Pln plane = BRepAdaptor_Surface(face).Plane();
    turn_ = Eigen::Quaterniond::FromTwoVectors(chosen_side(to_eigen(plane.Axis().Direction().XYZ())),
                                               Vector3d::UnitZ())
                .toRotationMatrix();
  }
  [[nodiscard]] Vector2d point(const gp_Pnt& x) const { return (turn_ * to_eigen(x.XYZ())).head<2>(); }
  [[nodiscard]] double rise(const gp_Dir& direction) const { return (turn_ * to_eigen(direction.XYZ())).z(); }

 private:
  Eigen::Matrix3d turn_;
};

PlaneCurve arc_of(const BRepAdaptor_Curve& edge, const Flat& flat) {
  const gp_Circ whole = edge.Circle();
  const Vector2d centre = flat.point(whole.Location());
  const Vector2d start = flat.point(edge.Value(edge.FirstParameter())) - centre;
  const double way = flat.rise(whole.Axis().Direction()) > 0 ? 1 : -1;
  return ArcCurve{centre, whole.Radius(), std::atan2(start.y(), start.x()),
                  way * (edge.LastParameter() - edge.FirstParameter())};
}

PlaneCurve spline_of(const TopoDS_Edge& edge, const Flat& flat) {
  double first = 0, last = 0;
  const opencascade::handle<Geom_Curve> curve = BRep_Tool::Curve(edge, first, last);
  if (curve.IsNull())
    throw MeshError("the planar face of the STEP file has an edge without a curve; repair it");
  const auto spline = GeomConvert::CurveToBSplineCurve(new Geom_TrimmedCurve(curve, first, last));
  SplineCurve result{spline->Degree(), {}, {}};
  for (int i = 1; i <= spline->NbKnots(); ++i)
    result.knots.insert(result.knots.end(), static_cast<std::size_t>(spline->Multiplicity(i)),
                        spline->Knot(i));
  for (int i = 1; i <= spline->NbPoles(); ++i) {
    result.points.push_back(flat.point(spline->Pole(i)));
    if (spline->IsRational()) result.weights.push_back(spline->Weight(i));
  }
  if (spline->IsPeriodic())
    throw MeshError("a periodic curve bounds the planar face; convert it to arcs and lines");
  return result;
}

std::vector<PlaneCurve> curves_of(const TopoDS_Face& face) {
  const Flat flat(face);
  std::vector<PlaneCurve> curves;
  for (TopExp_Explorer edges(face, TopAbs_EDGE); edges.More(); edges.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
    if (BRep_Tool::Degenerated(edge)) continue;
    const BRepAdaptor_Curve adaptor(edge);
    if (adaptor.GetType() == GeomAbs_Line)
      curves.emplace_back(LineCurve{flat.point(adaptor.Value(adaptor.FirstParameter())),
                                    flat.point(adaptor.Value(adaptor.LastParameter()))});
    else if (adaptor.GetType() == GeomAbs_Circle)
      curves.push_back(arc_of(adaptor, flat));
    else
      curves.push_back(spline_of(edge, flat));
  }
  return curves;
}

std::optional<TopoDS_Face> largest_planar_face(const TopoDS_Shape& shape) {
  std::optional<TopoDS_Face> largest;
  double largest_area = 0;
  for (TopExp_Explorer faces(shape, TopAbs_FACE); faces.More(); faces.Next()) {
    const TopoDS_Face& face = TopoDS::Face(faces.Current());
    if (BRepAdaptor_Surface(face).GetType() != GeomAbs_Plane) continue;
    GProp_GProps properties;
    BRepGProp::SurfaceProperties(face, properties);
    const double area = std::abs(properties.Mass());
    if (area <= largest_area * (1 + 1e-6)) continue;  // of two alike the first
    largest_area = area;
    largest = face;
  }
  return largest;
}

double depth_off(const TopoDS_Face& face, const TopoDS_Shape& shape) {
  constexpr int n_samples = 8;  // of an edge, so that arcs count
  const gp_Pln plane = BRepAdaptor_Surface(face).Plane();
  double depth = 0;
  for (TopExp_Explorer edges(shape, TopAbs_EDGE); edges.More(); edges.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(edges.Current());
    if (BRep_Tool::Degenerated(edge)) continue;
    const BRepAdaptor_Curve curve(edge);
    const double first = curve.FirstParameter(), step = (curve.LastParameter() - first) / n_samples;
    for (int i = 0; i <= n_samples; ++i)
      depth = std::max(depth, plane.Distance(curve.Value(first + i * step)));
  }
  return depth;
}

PlanarFace read(const std::string& path) {
  STEPControl_Reader reader;
  if (reader.ReadFile(path.c_str()) != IFSelect_RetDone)
    throw MeshError("the STEP file cannot be read; export it anew as STEP (ISO 10303)");
  reader.TransferRoots();
  const TopoDS_Shape shape = reader.OneShape();
  const auto face = shape.IsNull() ? std::nullopt : largest_planar_face(shape);
  if (!face)
    throw MeshError("the STEP file holds no planar face; export the flat blank as a face or as a plate");
  return {curves_of(*face), depth_off(*face, shape)};
}

}  // namespace

PlanarFace read_planar_face(const std::string& path) {
  PlanarFace face;
  const GmshSession session;  // the kernel is not thread-safe, and its reader prints
  session.attempt("reading " + path, [&] {
    try_step_file(path, [&] { read(path); });
    try {
      face = read(path);
    } catch (const Standard_Failure& failure) {
      throw MeshError(std::string("the STEP file cannot be read: ") + failure.GetMessageString() +
                      "; export it anew as STEP (ISO 10303)");
    }
  });
  return face;
}

}  // namespace halftool::mesh
