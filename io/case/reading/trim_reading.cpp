#include "io/case/reading/trim_reading.hpp"

#include <fmt/format.h>

#include "io/drawing/drawing_error.hpp"
#include "mesh/chain_curves.hpp"

namespace halftool::io {
namespace {

mesh::DrawnOutline line_of(const std::vector<Eigen::Vector2d>& corners) {
  std::vector<mesh::PlaneCurve> sides;
  for (size_t i = 0; i < corners.size(); ++i)
    sides.emplace_back(mesh::LineCurve{corners[i], corners[(i + 1) % corners.size()]});
  return mesh::chain_curves(sides);
}

void read_polygon(const CheckedCase& checked, TrimLine& trim, const std::string& table) {
  const std::string key = table + ".polygon";
  for (const char* of_drawing : {".layer", ".length_unit"})
    if (checked.given(table + of_drawing))
      checked.error(table + of_drawing, "the key beside a polygon", "only beside drawing", "leave it out");
  if (trim.polygon.size() < 3) {
    checked.error(key, fmt::format("{} corners", trim.polygon.size()), "at least three corners",
                  "add the corners");
    return;
  }
  try {
    trim.line = line_of(trim.polygon);
  } catch (const mesh::MeshError& refusal) {
    const std::string message = refusal.what();
    checked.error(key, message.substr(0, message.rfind("; ")), "a closed line that does not cross itself",
                  "correct the corners");
  }
}

void read_drawing(const CheckedCase& checked, TrimLine& trim, const std::string& table) {
  try {
    trim.line = read_blank_drawing(trim.drawing);
    for (const auto& doubt : trim.line.doubts) {
      const auto cut = doubt.rfind("; ");
      checked.warning(table + ".drawing", doubt.substr(0, cut), "a clean line", doubt.substr(cut + 2));
    }
  } catch (const DrawingError& error) {
    const auto& fault = error.fault();
    const auto at = table + "." + fault.key;
    checked.error(checked.given(at) ? at : table + ".drawing", fault.found, fault.allowed, fault.mend);
  }
}

}  // namespace

void read_trims(const CheckedCase& checked, Case& into) {
  for (size_t i = 0; i < into.trims.size(); ++i) {
    const std::string table = fmt::format("trim[{}]", i + 1);
    if (!checked.sound({table})) continue;
    const bool drawn = checked.given(table + ".drawing"), cornered = checked.given(table + ".polygon");
    if (drawn && cornered)
      checked.error(table + ".polygon", "a polygon beside a drawing", "one of drawing and polygon",
                    "keep one of them as the trim line");
    else if (drawn)
      read_drawing(checked, into.trims[i], table);
    else if (cornered)
      read_polygon(checked, into.trims[i], table);
    else
      checked.error(table, "no trim line", "one of drawing and polygon", "add the line");
  }
}

}  // namespace halftool::io
