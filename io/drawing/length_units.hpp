#pragma once
#include <optional>
#include <string>

namespace halftool::io {

struct LengthUnit {
  std::string name;
  double in_mm = 1;  ///< length of one unit [mm]
};

/// A unit by its name; nothing if drawings are not drawn in it.
std::optional<LengthUnit> length_unit(const std::string& name);

/// The unit of a drawing: what its header says ($INSUNITS of the DXF Reference) and what the case says.
/// @param code  of the header; nothing or 0: it does not say
/// @param given  by the case: the name of a unit
/// @throws DrawingError  neither says it, they disagree, a code of no usable unit
LengthUnit drawing_unit(const std::optional<int>& code, const std::optional<std::string>& given);

}  // namespace halftool::io
