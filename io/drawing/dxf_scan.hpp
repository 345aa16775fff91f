#pragma once
#include <map>
#include <string>
#include <string_view>

namespace halftool::io {

/// The plane curves of a DXF file (text form, group codes as in the published DXF Reference), still as DXF.
struct DxfScan {
  std::string curves;  ///< header variable $INSUNITS, table of layers, curves of the model, nothing else
  std::map<std::string, int>
      ignored;  ///< entities that are no curves, and curves on paper or hidden, by kind
};

/// Goes through all of a DXF file, line by line, keeps the curves and checks that they are whole: numbers
/// where numbers belong, no group missing, as many vertices, knots and control points as are said to come.
/// @throws DrawingError  a file that is not DXF, in binary form, cut off, or with a broken curve; with its
/// line
DxfScan scan_dxf(std::string_view text);

}  // namespace halftool::io
