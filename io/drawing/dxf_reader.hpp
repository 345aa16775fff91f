#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mesh/chain_curves.hpp"

namespace halftool::io {

/// One entity of a drawing.
struct DxfEntity {
  std::string kind;  ///< "LINE", "LWPOLYLINE" ...
  std::string layer;
  std::vector<mesh::PlaneCurve> curves;  ///< in the drawing's unit
  double lowest = 0, highest = 0;        ///< heights over xy, in the drawing's unit
};

/// The curves of a DXF file.
struct DxfDrawing {
  std::vector<DxfEntity> entities;
  std::map<std::string, bool> layers;  ///< of the table of layers: whether they are off or frozen
  std::map<std::string, int> ignored;  ///< entities that are no plane curves, by kind
  std::optional<int> unit;             ///< $INSUNITS, if it is there
};

/// Reads lines, arcs, circles, ellipses, splines and polylines with bulges.
/// @throws DrawingError  a file that is not DXF or broken; a curve in a plane that is not parallel to xy; a
/// polyline that only a drawing program can smooth
DxfDrawing read_dxf(std::string_view text);

}  // namespace halftool::io
