#pragma once
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "io/drawing/dxf_reader.hpp"

namespace halftool::io {

/// The curves of a drawing that count [mm], in the order of the file.
struct ChosenCurves {
  std::vector<mesh::PlaneCurve> curves;
  std::map<std::string, std::vector<std::size_t>> on_layer;  ///< places in `curves`
  std::map<std::string, int> kinds;
  int n_elsewhere = 0;             ///< entities on layers that do not count
  double lowest = 0, highest = 0;  ///< heights over xy [mm]
};

/// Takes the curves of one layer, or of all that are on and not frozen.
/// @param in_mm  length of the drawing's unit [mm]
/// @throws DrawingError  a layer without curves
ChosenCurves choose_curves(const DxfDrawing& drawing, const std::optional<std::string>& layer, double in_mm);

/// The layers with how many curves they hold: "0 (4)".
std::vector<std::string> names_of(const ChosenCurves& chosen);

/// The layers whose curves give an outline by themselves.
std::vector<std::string> layers_with_outline(const ChosenCurves& chosen);

}  // namespace halftool::io
