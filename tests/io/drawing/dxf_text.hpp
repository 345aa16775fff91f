#pragma once
#include <fmt/format.h>

#include <numbers>
#include <string>
#include <vector>

namespace halftool::io::dxf {

/// One group of a DXF file.
template <class T>
std::string group(int code, const T& value) {
  return fmt::format("{:3}\n{}\n", code, value);
}

inline std::string section(const std::string& name, const std::string& content) {
  return group(0, "SECTION") + group(2, name) + content + group(0, "ENDSEC");
}

/// The header; unit 0: none.
inline std::string header(int unit) {
  return section("HEADER", group(9, "$ACADVER") + group(1, "AC1027") +
                               (unit == 0 ? "" : group(9, "$INSUNITS") + group(70, unit)));
}

/// A drawing of the given entities.
inline std::string file(const std::string& entities, int unit = 4, const std::string& tables = "") {
  return header(unit) + (tables.empty() ? "" : section("TABLES", tables)) + section("ENTITIES", entities) +
         group(0, "EOF");
}

inline std::string start(const std::string& kind, const std::string& layer = "0") {
  return group(0, kind) + group(5, "1F") + group(100, "AcDbEntity") + group(8, layer);
}

inline std::string line(double x1, double y1, double x2, double y2, const std::string& layer = "0") {
  return start("LINE", layer) + group(10, x1) + group(20, y1) + group(30, 0.0) + group(11, x2) +
         group(21, y2) + group(31, 0.0);
}

inline std::string circle(double x, double y, double radius, const std::string& layer = "0") {
  return start("CIRCLE", layer) + group(10, x) + group(20, y) + group(30, 0.0) + group(40, radius);
}

inline std::string arc(double x, double y, double radius, double from, double to) {
  return start("ARC") + group(10, x) + group(20, y) + group(40, radius) + group(50, from) + group(51, to);
}

inline std::string ellipse(double x, double y, double major_x, double major_y, double ratio, double from = 0,
                           double to = 2 * std::numbers::pi) {
  return start("ELLIPSE") + group(10, x) + group(20, y) + group(11, major_x) + group(21, major_y) +
         group(40, ratio) + group(41, from) + group(42, to);
}

struct Vertex {
  double x, y, bulge = 0;
};

inline std::string lwpolyline(const std::vector<Vertex>& vertices, bool closed = true) {
  std::string text =
      start("LWPOLYLINE") + group(90, vertices.size()) + group(70, closed ? 1 : 0) + group(43, 0.0);
  for (const auto& [x, y, bulge] : vertices)
    text += group(10, x) + group(20, y) + (bulge == 0 ? "" : group(42, bulge));
  return text;
}

inline std::string polyline(const std::vector<Vertex>& vertices, int flags = 1) {
  std::string text = start("POLYLINE") + group(66, 1) + group(10, 0.0) + group(20, 0.0) + group(70, flags);
  for (const auto& [x, y, bulge] : vertices)
    text += start("VERTEX") + group(10, x) + group(20, y) + group(42, bulge);
  return text + start("SEQEND");
}

inline std::string spline(int degree, const std::vector<double>& knots, const std::vector<Vertex>& points,
                          const std::vector<double>& weights = {}) {
  std::string text = start("SPLINE") + group(70, 8) + group(71, degree) + group(72, knots.size()) +
                     group(73, points.size()) + group(74, 0) + group(42, 1e-7) + group(43, 1e-7);
  for (const double knot : knots) text += group(40, knot);
  for (const double weight : weights) text += group(41, weight);
  for (const auto& point : points) text += group(10, point.x) + group(20, point.y) + group(30, 0.0);
  return text;
}

/// A closed rectangle of four lines, a by b, from (0, 0).
inline std::string rectangle(double a, double b, const std::string& layer = "0") {
  return line(0, 0, a, 0, layer) + line(a, 0, a, b, layer) + line(a, b, 0, b, layer) +
         line(0, b, 0, 0, layer);
}

}  // namespace halftool::io::dxf
