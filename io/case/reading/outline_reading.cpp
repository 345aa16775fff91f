#include "io/case/reading/outline_reading.hpp"

#include "io/drawing/drawing_error.hpp"

namespace halftool::io {
namespace {

std::optional<mesh::DrawnOutline> read(const Case& job) {
  if (const auto* drawing = std::get_if<BlankDrawing>(&job.outline_file)) return read_blank_drawing(*drawing);
  if (const auto* face = std::get_if<BlankFace>(&job.outline_file))
    return read_blank_face(*face, job.blank.thickness);
  return std::nullopt;
}

}  // namespace

void read_outline(const CheckedCase& checked, Case& into) {
  const auto key = outline_key(into);
  if (!checked.sound({key, "blank.layer", "blank.length_unit"}) || !checked.given(key)) return;
  try {
    auto outline = read(into);
    if (!outline) return;
    for (const auto& doubt : outline->doubts) {
      const auto cut = doubt.rfind("; ");
      checked.warning(key, doubt.substr(0, cut), "a clean outline", doubt.substr(cut + 2));
    }
    into.blank.outline = std::move(*outline);
  } catch (const DrawingError& error) {
    // A key that is missing is reported where the drawing is named.
    const auto& fault = error.fault();
    const auto at = "blank." + fault.key;
    checked.error(checked.given(at) ? at : key, fault.found, fault.allowed, fault.mend);
  }
}

void choose_flatness(Case& into) {
  const std::string table = "blank.imperfection.";
  if (into.given.contains(table + "pattern") && !into.given.contains(table + "amplitude"))
    into.blank.flatness.amplitude = mesh::kUsualFlatness;
}

}  // namespace halftool::io
