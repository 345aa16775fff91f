#include "io/drawing/chosen_curves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "io/drawing/drawing_error.hpp"

namespace halftool::io {
namespace {

using mesh::PlaneCurve;

bool is_hidden(const DxfDrawing& drawing, const std::string& layer) {
  const auto known = drawing.layers.find(layer);
  return known != drawing.layers.end() && known->second;
}

void scale(PlaneCurve& curve, double factor) {
  if (auto* line = std::get_if<mesh::LineCurve>(&curve)) {
    line->start *= factor;
    line->end *= factor;
  } else if (auto* arc = std::get_if<mesh::ArcCurve>(&curve)) {
    arc->centre *= factor;
    arc->radius *= factor;
  } else {
    for (auto& point : std::get<mesh::SplineCurve>(curve).points) point *= factor;
  }
}

}  // namespace

ChosenCurves choose_curves(const DxfDrawing& drawing, const std::optional<std::string>& layer, double in_mm) {
  ChosenCurves chosen;
  std::set<std::string> layers;
  for (const auto& entity : drawing.entities) {
    layers.insert(entity.layer);
    if (layer ? entity.layer != *layer : is_hidden(drawing, entity.layer)) {
      ++chosen.n_elsewhere;
      continue;
    }
    const bool first = chosen.kinds.empty();
    chosen.lowest = first ? in_mm * entity.lowest : std::min(chosen.lowest, in_mm * entity.lowest);
    chosen.highest = first ? in_mm * entity.highest : std::max(chosen.highest, in_mm * entity.highest);
    ++chosen.kinds[entity.kind];
    for (PlaneCurve curve : entity.curves) {
      scale(curve, in_mm);
      chosen.on_layer[entity.layer].push_back(chosen.curves.size());
      chosen.curves.push_back(std::move(curve));
    }
  }
  if (layer && chosen.kinds.empty())
    throw DrawingError({"layer", fmt::format("no curve on the layer \"{}\"", *layer),
                        layers.empty() ? "a drawing with curves"
                                       : fmt::format("a layer with curves: {}", fmt::join(layers, ", ")),
                        "give the layer that holds the outline, or leave it out"});
  return chosen;
}

std::vector<std::string> names_of(const ChosenCurves& chosen) {
  std::vector<std::string> names;
  for (const auto& [layer, of] : chosen.on_layer) names.push_back(fmt::format("{} ({})", layer, of.size()));
  return names;
}

std::vector<std::string> layers_with_outline(const ChosenCurves& chosen) {
  std::vector<std::string> closed;
  for (const auto& [layer, places] : chosen.on_layer) try {
      std::vector<PlaneCurve> alone;
      for (const std::size_t place : places) alone.push_back(chosen.curves[place]);
      mesh::chain_curves(alone);
      closed.push_back(layer);
    } catch (const mesh::MeshError&) {
      continue;  // open, or not one outline
    }
  return closed;
}

}  // namespace halftool::io
