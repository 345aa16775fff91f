#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "mesh/blank.hpp"

namespace halftool::io {

/// A drawing of the blank, and how it is to be read.
struct BlankDrawing {
  std::string path;                  ///< of a DXF file
  std::optional<std::string> layer;  ///< the only layer that counts; not set: all that are on and not frozen
  std::optional<std::string> length_unit;  ///< where the drawing does not say it
};

/// A STEP file whose largest planar face is the blank.
struct BlankFace {
  std::string path;
};

/// Reads the outline and what there is to say about it.
/// @throws DrawingError  no such file, a faulty drawing, no or two different units, no such layer, curves at
/// different heights, no outline, an extent that no blank has
mesh::DrawnOutline read_blank_drawing(const BlankDrawing& drawing);
/// @param thickness  of the sheet [mm]: a file that holds more than a plate of it is a doubt
mesh::DrawnOutline read_blank_face(const BlankFace& face, double thickness);

/// The same from the text of a DXF file.
/// @param name  of the file, for the facts
mesh::DrawnOutline read_blank_drawing(std::string_view text, const BlankDrawing& drawing,
                                      const std::string& name);

}  // namespace halftool::io
