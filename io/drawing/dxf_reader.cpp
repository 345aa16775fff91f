#include "io/drawing/dxf_reader.hpp"

#include <dxflib/dl_creationadapter.h>
#include <dxflib/dl_dxf.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>
#include <utility>

#include "io/drawing/drawing_error.hpp"
#include "io/drawing/dxf_scan.hpp"

namespace halftool::io {
namespace {

using Eigen::Vector2d;
using mesh::ArcCurve;
using mesh::LineCurve;
using mesh::PlaneCurve;

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180;

/// Takes what the library reads.
class Collector : public DL_CreationAdapter {
 public:
  DxfDrawing finish() {
    close_polyline();
    close_spline();
    return std::move(drawing_);
  }

  void setVariableInt(const std::string& name, int value, int /*code*/) override {
    if (name == "$INSUNITS") drawing_.unit = value;
  }

  void addLayer(const DL_LayerData& layer) override {
    constexpr int frozen = 1;
    const bool is_off = layer.off || attributes.getColor() < 0;  // the sign of the colour says it in the file
    drawing_.layers[layer.name] = is_off || (layer.flags & frozen) != 0;
  }

  void addLine(const DL_LineData& line) override {
    start("LINE");
    mirrored_ = false;  // its points are the world's, whatever its normal
    note_height(line.z1);
    note_height(line.z2);
    add(LineCurve{{line.x1, line.y1}, {line.x2, line.y2}});
  }

  void addArc(const DL_ArcData& arc) override {
    start("ARC");
    note_height(side() * arc.cz);
    double sweep = std::fmod(arc.angle2 - arc.angle1, 360.0);
    if (sweep <= 0) sweep += 360;
    add_arc({{arc.cx, arc.cy}, arc.radius, arc.angle1 * degree, sweep * degree});
  }

  void addCircle(const DL_CircleData& circle) override {
    start("CIRCLE");
    note_height(side() * circle.cz);
    add_arc({{circle.cx, circle.cy}, circle.radius, 0, 2 * pi});
  }

  void addEllipse(const DL_EllipseData& ellipse) override {
    start("ELLIPSE");
    note_height(ellipse.cz);
    note_height(ellipse.cz + ellipse.mz);
    double to = ellipse.angle1 + std::fmod(ellipse.angle2 - ellipse.angle1, 2 * pi);
    constexpr double whole = 1e-9;
    if (to <= ellipse.angle1 + whole) to += 2 * pi;
    add(mesh::ellipse_arc({ellipse.cx, ellipse.cy}, {ellipse.mx, ellipse.my}, side() * ellipse.ratio,
                          ellipse.angle1, std::min(to, ellipse.angle1 + 2 * pi)));
  }

  void addPolyline(const DL_PolylineData& polyline) override {
    start("POLYLINE");
    constexpr int smoothed = 2 | 4, is_mesh = 16 | 64;
    if ((polyline.flags & smoothed) != 0)
      throw DrawingError({"drawing", "a polyline that the drawing program smooths",
                          "curves that say their shape", "explode the polyline, or convert it to a spline"});
    in_polyline_ = (polyline.flags & is_mesh) == 0;
    if (!in_polyline_) {
      drawing_.entities.pop_back();
      ++drawing_.ignored["POLYLINE"];
    }
    closed_ = (polyline.flags & 1) != 0;
    elevation_ = getExtrusion()->getElevation();
  }

  void addVertex(const DL_VertexData& vertex) override {
    if (!in_polyline_) return;
    note_height(side() * (vertex.z == 0 ? elevation_ : vertex.z));
    vertices_.push_back(vertex);
  }

  void addSpline(const DL_SplineData& spline) override {
    start("SPLINE");
    mirrored_ = false;  // as for lines
    in_spline_ = true;
    spline_ = {static_cast<int>(std::min(spline.degree, 1000U)), {}, {}};
  }
  void addControlPoint(const DL_ControlPointData& point) override {
    if (!in_spline_) return;
    note_height(point.z);
    spline_.points.emplace_back(point.x, point.y);
    spline_.weights.push_back(point.w);
  }
  void addKnot(const DL_KnotData& knot) override {
    if (in_spline_) spline_.knots.push_back(knot.k);
  }

 private:
  /// An entity begins: the one before is complete.
  void start(const std::string& kind) {
    close_polyline();
    close_spline();
    double normal[3] = {0, 0, 1};
    getExtrusion()->getDirection(normal);
    constexpr double parallel = 1e-6;
    if (std::hypot(normal[0], normal[1]) > parallel * std::abs(normal[2]))
      throw DrawingError({"drawing", kind + " in a plane that is not parallel to xy", "a plane drawing",
                          "turn the drawing into the xy plane, or flatten it"});
    mirrored_ = normal[2] < 0;
    drawing_.entities.push_back({kind, attributes.getLayer(), {}});
    no_height_yet_ = true;
  }

  [[nodiscard]] double side() const { return mirrored_ ? -1 : 1; }

  /// A curve whose normal looks down has its x against the world's.
  [[nodiscard]] Vector2d in_world(const Vector2d& x) const { return {side() * x.x(), x.y()}; }

  void note_height(double z) {
    DxfEntity& entity = drawing_.entities.back();
    const bool first = std::exchange(no_height_yet_, false);
    entity.lowest = first ? z : std::min(entity.lowest, z);
    entity.highest = first ? z : std::max(entity.highest, z);
  }

  void add(const PlaneCurve& curve) { drawing_.entities.back().curves.push_back(curve); }

  void add_arc(const ArcCurve& arc) {
    if (mirrored_)
      add(ArcCurve{in_world(arc.centre), arc.radius, pi - arc.from, -arc.sweep});
    else
      add(arc);
  }

  void close_polyline() {
    const size_t n = vertices_.size();
    for (size_t i = 0; i + (closed_ ? 0 : 1) < n; ++i) {
      const auto& from = vertices_[i];
      const auto& to = vertices_[(i + 1) % n];
      const Vector2d start = in_world({from.x, from.y});
      const Vector2d end = in_world({to.x, to.y});
      // The bulge is the tangent of a quarter of the arc's sweep.
      if (from.bulge == 0 || start == end)
        add(LineCurve{start, end});
      else
        add(mesh::arc_through(start, end, side() * 4 * std::atan(from.bulge)));
    }
    vertices_.clear();
    in_polyline_ = false;
  }

  void close_spline() {
    if (in_spline_) add(spline_);
    in_spline_ = false;
  }

  DxfDrawing drawing_;
  bool mirrored_ = false;
  bool no_height_yet_ = true;
  bool in_polyline_ = false, closed_ = false;
  double elevation_ = 0;
  std::vector<DL_VertexData> vertices_;
  bool in_spline_ = false;
  mesh::SplineCurve spline_;
};

}  // namespace

DxfDrawing read_dxf(std::string_view text) {
  DxfScan scan = scan_dxf(text);
  std::istringstream stream(std::move(scan.curves));
  Collector collector;
  DL_Dxf().in(stream, &collector);
  DxfDrawing drawing = collector.finish();
  for (const auto& [kind, n] : scan.ignored) drawing.ignored[kind] += n;
  return drawing;
}

}  // namespace halftool::io
