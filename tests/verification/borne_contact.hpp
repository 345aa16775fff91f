#pragma once
#include <vector>

#include "solver/assembly/sheet_model.hpp"
#include "solver/assembly/triangle_force.hpp"

namespace halftool::test {

/// A cylinder along y that a sheet lies on, its axis at x = 0.
struct CylinderFace {
  double radius = 0;  ///< [mm]
  double axis = 0;    ///< z of the axis [mm]
};

/// Parts of equal angle that what the tool bears is summed over.
struct ArcParts {
  double from = 0, to = 0;  ///< angles from the crown towards +x [rad]
  double part = 0;          ///< about how wide a narrow one is [rad]
  int joined = 3;           ///< narrow ones in a wide one
};

/// What the tool bears over one part over what balance asks for: p Ro + N per angle and width, with the
/// sheet's outer radius Ro and its own force N along the arc.
struct BornePart {
  double angle = 0;      ///< of the part's middle [rad]
  double triangles = 0;  ///< summed over the triangles whose middle lies in the part
  double nodes = 0;      ///< summed over the nodes in the part, as it comes to them
  double around = 0;     ///< means over the triangles round a node, weighted by area
};

struct BorneContact {
  std::vector<BornePart> parts, wide_parts;
  double single = 0;  ///< root mean square of single triangles about their mean, over it
  double around = 0;  ///< the same of the means round the nodes
  double empty = 0;   ///< share of the area whose triangles bear nothing
};

/// @param state    accepted; frictionless or not, only what acts square to the cylinder counts
/// @param loading  that the state rests under
/// @throws std::runtime_error  a part without nodes
BorneContact borne_contact(const solver::SheetModel& model, const solver::SheetState& state,
                           const solver::Loading& loading, const CylinderFace& cylinder,
                           const ArcParts& parts);

}  // namespace halftool::test
