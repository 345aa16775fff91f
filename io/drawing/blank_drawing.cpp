#include "io/drawing/blank_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include "io/drawing/chosen_curves.hpp"
#include "io/drawing/drawing_error.hpp"
#include "io/drawing/dxf_reader.hpp"
#include "io/drawing/length_units.hpp"
#include "mesh/step_outline.hpp"

namespace halftool::io {
namespace {

namespace fs = std::filesystem;
using mesh::PlaneCurve;

constexpr double same_height = 0.01;           // [mm]
constexpr double smallest = 1, largest = 1e4;  // extent of a blank [mm]

std::string file_name(const std::string& path) {
  return fs::path(path).filename().string();
}

void require_file(const std::string& key, const std::string& path, const std::vector<std::string>& suffixes,
                  const std::string& what) {
  auto suffix = fs::path(path).extension().string();
  std::transform(suffix.begin(), suffix.end(), suffix.begin(),
                 [](unsigned char l) { return std::tolower(l); });
  if (std::find(suffixes.begin(), suffixes.end(), suffix) == suffixes.end())
    throw DrawingError({key, fmt::format("\"{}\"", path),
                        fmt::format("a {} file, {}", what, fmt::join(suffixes, " or ")),
                        fmt::format("export the blank as {}", what)});
  std::error_code code;
  if (!fs::is_regular_file(path, code))
    throw DrawingError(
        {key, fmt::format("no file \"{}\"", path), "a path relative to the case file", "check the path"});
}

std::string read_text(const std::string& path) {
  constexpr std::uintmax_t most = 64U << 20U;
  std::error_code code;
  if (fs::file_size(path, code) > most)
    throw DrawingError(
        {"drawing", "a file of more than 64 MB", "the drawing of one blank", "check the path"});
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  if (!stream)
    throw DrawingError({"drawing", "a file that cannot be read", "a DXF file", "check its permissions"});
  return text.str();
}

std::string block_references(int n) {
  return fmt::format("{} block reference{}", n, n == 1 ? "" : "s");
}

std::string counted(const std::map<std::string, int>& numbers) {
  std::vector<std::string> words;
  words.reserve(numbers.size());
  for (const auto& [kind, n] : numbers) words.push_back(fmt::format("{} {}", n, kind));
  return fmt::format("{}", fmt::join(words, ", "));
}

/// "finding; mend" of the mesher as an error at a key.
[[noreturn]] void refuse(const std::string& key, const mesh::MeshError& refusal) {
  const std::string message = refusal.what();
  const auto cut = message.rfind("; ");
  throw DrawingError({key, message.substr(0, cut), "one closed outline and its holes",
                      cut == std::string::npos ? "correct the drawing" : message.substr(cut + 2)});
}

/// What else there is to say of curves that give no outline.
std::string hint(const ChosenCurves& chosen, const std::map<std::string, int>& ignored) {
  std::string text;
  if (const auto blocks = ignored.find("INSERT"); blocks != ignored.end())
    text +=
        fmt::format("; {} not read: explode what belongs to the outline", block_references(blocks->second));
  if (chosen.on_layer.size() < 2) return text;
  text += fmt::format("; curves were taken from the layers {}", fmt::join(names_of(chosen), ", "));
  const auto closed = layers_with_outline(chosen);
  if (!closed.empty())
    text +=
        fmt::format(": layer = \"{}\" takes an outline from that one alone", fmt::join(closed, "\" or \""));
  return text;
}

/// A frame round the blank reads as the blank, and the blank as a hole.
void doubt_frame(const ChosenCurves& chosen, mesh::DrawnOutline& outline) {
  if (chosen.on_layer.size() != 2 || outline.holes.size() != 1) return;
  const auto closed = layers_with_outline(chosen);
  if (closed.size() != 2) return;
  outline.doubts.push_back(fmt::format(
      "an outline and its one hole on layers of their own, {}; if one of them is a drawing frame, "
      "name the blank's in layer",
      fmt::join(closed, " and ")));
}

/// Chains the curves; the facts about the outline follow those about the file.
mesh::DrawnOutline chained(const std::vector<PlaneCurve>& curves, const std::string& key,
                           std::vector<std::string> facts) {
  mesh::DrawnOutline outline;
  try {
    outline = mesh::chain_curves(curves);
  } catch (const mesh::MeshError& refusal) {
    refuse(key, refusal);
  }
  Eigen::Vector2d low = outline.outer.front().start;
  Eigen::Vector2d high = low;
  mesh::grow_box(outline.outer, low, high);
  const Eigen::Vector2d extent = high - low;
  if (extent.minCoeff() < smallest || extent.maxCoeff() > largest)
    throw DrawingError({key, fmt::format("a blank of {:.4g} mm by {:.4g} mm", extent.x(), extent.y()),
                        fmt::format("a blank of {:.0f} mm to {:.0f} mm", smallest, largest),
                        "check the length unit of the drawing"});
  double area = mesh::area_of(outline.outer);
  for (const auto& hole : outline.holes) area -= mesh::area_of(hole);
  facts.push_back(
      fmt::format("an outline with {} hole{}: area {:.6g} mm2, from ({:.6g}, {:.6g}) to ({:.6g}, {:.6g}) mm",
                  outline.holes.size(), outline.holes.size() == 1 ? "" : "s", area, low.x(), low.y(),
                  high.x(), high.y()));
  outline.facts.insert(outline.facts.begin(), facts.begin(), facts.end());
  return outline;
}

}  // namespace

mesh::DrawnOutline read_blank_drawing(std::string_view text, const BlankDrawing& drawing,
                                      const std::string& name) {
  const DxfDrawing dxf = read_dxf(text);
  const LengthUnit unit = drawing_unit(dxf.unit, drawing.length_unit);
  const ChosenCurves chosen = choose_curves(dxf, drawing.layer, unit.in_mm);
  if (chosen.highest - chosen.lowest > same_height)
    throw DrawingError(
        {"drawing", fmt::format("curves at heights from {:.6g} to {:.6g} mm", chosen.lowest, chosen.highest),
         "a plane drawing", "flatten the drawing to one height"});
  std::vector<std::string> facts{
      fmt::format("{}, drawn in {}{}", name, unit.name, dxf.unit.value_or(0) == 0 ? " as the case says" : ""),
      "curves: " + counted(chosen.kinds)};
  if (chosen.n_elsewhere > 0)
    facts.push_back(fmt::format("left out: {} curve{} on other layers or on layers that are off or frozen",
                                chosen.n_elsewhere, chosen.n_elsewhere == 1 ? "" : "s"));
  if (!dxf.ignored.empty()) facts.push_back("ignored: " + counted(dxf.ignored));
  mesh::DrawnOutline outline;
  try {
    outline = chained(chosen.curves, "drawing", std::move(facts));
  } catch (const DrawingError& error) {
    DrawingFault fault = error.fault();
    fault.mend += hint(chosen, dxf.ignored);
    throw DrawingError(fault);
  }
  doubt_frame(chosen, outline);
  if (const auto blocks = dxf.ignored.find("INSERT"); blocks != dxf.ignored.end())
    outline.doubts.push_back(block_references(blocks->second) +
                             " not read; explode what belongs to the outline");
  return outline;
}

mesh::DrawnOutline read_blank_drawing(const BlankDrawing& drawing) {
  require_file("drawing", drawing.path, {".dxf"}, "DXF");
  return read_blank_drawing(read_text(drawing.path), drawing, file_name(drawing.path));
}

mesh::DrawnOutline read_blank_face(const BlankFace& face, double thickness) {
  constexpr double of_plate = 1.25;  // of the sheet's thickness: our judgement
  require_file("step", face.path, {".step", ".stp"}, "STEP");
  mesh::PlanarFace found;
  try {
    found = mesh::read_planar_face(face.path);
  } catch (const mesh::MeshError& refusal) {
    refuse("step", refusal);
  }
  std::map<std::string, int> kinds;
  for (const auto& curve : found.curves)
    ++kinds[std::holds_alternative<mesh::LineCurve>(curve)  ? "line"
            : std::holds_alternative<mesh::ArcCurve>(curve) ? "arc"
                                                            : "spline"];
  auto outline =
      chained(found.curves, "step",
              {file_name(face.path) + ", its largest planar face", "curves by kind: " + counted(kinds)});
  if (thickness > 0 && found.depth > of_plate * thickness)
    outline.doubts.push_back(
        fmt::format("the largest planar face of what reaches {:.4g} mm off it, {:.3g} times the sheet's "
                    "thickness; look whether "
                    "that face is the flat blank, and export a face, or a plate as thick as the sheet",
                    found.depth, found.depth / thickness));
  return outline;
}

}  // namespace halftool::io
