#include "io/drawing/dxf_scan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <span>
#include <vector>

#include "io/drawing/drawing_error.hpp"
#include "io/drawing/dxf_pairs.hpp"

namespace halftool::io {
namespace {

using Groups = std::span<const DxfPair>;

/// What is kept of a kind of curve: groups that must stand there, and others that may.
struct CurveKind {
  std::set<int> needed;
  std::set<int> allowed;
};

const std::map<std::string_view, CurveKind>& curve_kinds() {
  static const std::map<std::string_view, CurveKind> kinds = {
      {"LINE", {{10, 20, 11, 21}, {30, 31}}},
      {"ARC", {{10, 20, 40, 50, 51}, {30}}},
      {"CIRCLE", {{10, 20, 40}, {30}}},
      {"ELLIPSE", {{10, 20, 11, 21, 40}, {30, 31, 41, 42}}},
      {"LWPOLYLINE", {{90, 10, 20}, {38, 42, 70}}},
      {"SPLINE", {{71, 72, 73, 10, 20, 40}, {30, 41, 70}}},
      {"POLYLINE", {{}, {10, 20, 30, 66, 70}}},
      {"VERTEX", {{10, 20}, {30, 42, 70}}},
      {"SEQEND", {{}, {}}},
  };
  return kinds;
}

bool is_kept(const CurveKind& kind, int code) {
  constexpr int layer = 8;
  return code == 0 || code == layer || (code >= 210 && code <= 230) || kind.needed.contains(code) ||
         kind.allowed.contains(code);
}

[[noreturn]] void refuse(Groups entity, const std::string& what,
                         const std::string& mend = "save the drawing anew as DXF") {
  throw DrawingError({"drawing",
                      fmt::format("{} at line {} {}", entity.front().value, entity.front().line, what),
                      "whole curves", mend});
}

int count(Groups entity, int code) {
  return static_cast<int>(
      std::count_if(entity.begin(), entity.end(), [&](const DxfPair& pair) { return pair.code == code; }));
}

int integer(Groups entity, int code, int otherwise) {
  const auto pair =
      std::find_if(entity.begin(), entity.end(), [&](const DxfPair& p) { return p.code == code; });
  return pair == entity.end() ? otherwise : dxf_integer(pair->value).value_or(otherwise);
}

bool is_integer_group(int code) {
  return (code >= 60 && code < 80) || (code >= 90 && code < 100);
}

void check_numbers(Groups entity, const CurveKind& kind) {
  for (const auto& pair : entity) {
    if (pair.code < 10 || !is_kept(kind, pair.code)) continue;
    const bool good =
        is_integer_group(pair.code) ? dxf_integer(pair.value).has_value() : dxf_real(pair.value).has_value();
    if (!good) refuse(entity, fmt::format("has no number in line {}", pair.line));
  }
}

void check_counts(Groups entity) {
  const auto same = [&](int said, int code, const char* what) {
    if (integer(entity, said, 0) != count(entity, code))
      refuse(entity,
             fmt::format("is to have {} {} and has {}", integer(entity, said, 0), what, count(entity, code)));
  };
  if (count(entity, 10) != count(entity, 20)) refuse(entity, "has points without their y");
  if (entity.front().value == "LWPOLYLINE") same(90, 10, "vertices");
  if (entity.front().value != "SPLINE") return;
  same(72, 40, "knots");
  same(73, 10, "control points");
  const int weights = count(entity, 41);
  if (weights != 0 && weights != count(entity, 10)) refuse(entity, "has not one weight a control point");
}

void check(Groups entity, const CurveKind& kind) {
  if (entity.front().value == "SPLINE" && integer(entity, 73, 0) == 0 && count(entity, 11) > 0)
    refuse(entity, "is given by the points that it passes through and not by control points",
           "convert it to a spline with control points, or to arcs and lines");
  for (const int code : kind.needed)
    if (count(entity, code) == 0) refuse(entity, fmt::format("has no group {}", code));
  check_numbers(entity, kind);
  check_counts(entity);
}

void append(const DxfPair& pair, std::string& to) {
  to += fmt::format("{}\n{}\n", pair.code, pair.value);
}

/// Walks over sections, tables and entities.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : pairs_(dxf_pairs(text)) {}

  DxfScan scan() {
    size_t i = 0;
    while (i < pairs_.size()) i = is_start(i, "SECTION") ? section(i) : i + 1;
    scan_.curves += "0\nEOF\n";
    return std::move(scan_);
  }

 private:
  [[nodiscard]] bool is_start(size_t i, std::string_view of) const {
    return pairs_[i].code == 0 && pairs_[i].value == of;
  }
  [[nodiscard]] size_t next_start(size_t i) const {
    do ++i;
    while (i < pairs_.size() && pairs_[i].code != 0);
    return i;
  }
  [[nodiscard]] Groups between(size_t first, size_t last) const {
    return Groups(pairs_).subspan(first, last - first);
  }

  /// @return  the place after the section
  size_t section(size_t i) {
    const std::string_view name = i + 1 < pairs_.size() && pairs_[i + 1].code == 2 ? pairs_[i + 1].value : "";
    const bool kept = name == "HEADER" || name == "TABLES" || name == "ENTITIES";
    if (kept) scan_.curves += fmt::format("0\nSECTION\n2\n{}\n", name);
    if (name == "HEADER") header(between(i, next_start(i)));
    for (i = next_start(i); i < pairs_.size() && !is_start(i, "ENDSEC") && !is_start(i, "EOF");
         i = next_start(i)) {
      const Groups entity = between(i, next_start(i));
      if (name == "TABLES" && entity.front().value == "LAYER") layer(entity);
      if (name == "ENTITIES") take(entity);
    }
    if (name == "TABLES" && in_table_) scan_.curves += "0\nENDTAB\n";
    if (kept) scan_.curves += "0\nENDSEC\n";
    return i;
  }

  void header(Groups groups) {
    for (size_t i = 0; i + 1 < groups.size(); ++i) {
      if (groups[i].code != 9 || groups[i].value != "$INSUNITS") continue;
      if (!dxf_integer(groups[i + 1].value))
        throw DrawingError({"drawing", fmt::format("no number for $INSUNITS in line {}", groups[i + 1].line),
                            "a code of a length unit", "save the drawing anew as DXF"});
      append(groups[i], scan_.curves);
      append(groups[i + 1], scan_.curves);
    }
  }

  void layer(Groups groups) {
    if (!in_table_) scan_.curves += "0\nTABLE\n2\nLAYER\n70\n1\n";
    in_table_ = true;
    for (const auto& pair : groups)
      if (pair.code == 0 || pair.code == 2 ||
          ((pair.code == 70 || pair.code == 62) && dxf_integer(pair.value)))
        append(pair, scan_.curves);
  }

  void take(Groups entity) {
    const std::string_view name = entity.front().value;
    const bool follows = name == "VERTEX" || name == "SEQEND";  // of the entity before
    const auto kind = curve_kinds().find(name);
    constexpr int on_paper = 67, hidden = 60;
    if (!follows)
      taken_ =
          kind != curve_kinds().end() && integer(entity, on_paper, 0) == 0 && integer(entity, hidden, 0) == 0;
    if (!taken_) {
      if (!follows) ++scan_.ignored[std::string(name)];
      return;
    }
    check(entity, kind->second);
    for (const auto& pair : entity)
      if (is_kept(kind->second, pair.code)) append(pair, scan_.curves);
  }

  std::vector<DxfPair> pairs_;
  DxfScan scan_;
  bool in_table_ = false;
  bool taken_ = false;
};

}  // namespace

DxfScan scan_dxf(std::string_view text) {
  return Scanner(text).scan();
}

}  // namespace halftool::io
