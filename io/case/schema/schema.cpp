#include "io/case/schema/schema.hpp"

namespace halftool::io {

const Schema& schema() {
  static const Schema table = [] {
    Schema s;
    s.keys.push_back({.path = "case",
                      .kind = ValueKind::count,
                      .hard = {1, 1},
                      .about = "version of the case-file vocabulary",
                      .access = direct([](auto& c) { return &c.version; })});
    s.keys.push_back({.path = "title",
                      .kind = ValueKind::text,
                      .about = "one line that heads every result",
                      .access = direct([](auto& c) { return &c.title; })});
    add_sheet_keys(s);
    add_blank_keys(s);
    add_tool_keys(s);
    add_insert_keys(s);
    add_run_keys(s);
    add_scatter_keys(s);
    return s;
  }();
  return table;
}

const TableList* Schema::list_of(const std::string& key_path) const {
  const auto brackets = key_path.find("[]");
  if (brackets == std::string::npos) return nullptr;
  for (const auto& list : lists)
    if (list.path == key_path.substr(0, brackets)) return &list;
  return nullptr;
}

std::optional<Dimension> dimension_of(ValueKind kind) {
  switch (kind) {
    case ValueKind::length:
    case ValueKind::lengths:
    case ValueKind::points:
      return Dimension::length;
    case ValueKind::pressure:
    case ValueKind::schedule:
    case ValueKind::flow_curve:
    case ValueKind::backstress:
      return Dimension::pressure;
    case ValueKind::angle:
      return Dimension::angle;
    case ValueKind::ratio:
    case ValueKind::ratios:
    case ValueKind::strains:
      return Dimension::ratio;
    case ValueKind::pressure_per_length:
      return Dimension::pressure_per_length;
    case ValueKind::strain_rate:
      return Dimension::strain_rate;
    default:
      return std::nullopt;
  }
}

}  // namespace halftool::io
