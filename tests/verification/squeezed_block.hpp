#pragma once
#include "tests/verification/point_plasticity.hpp"

namespace halftool::test {

/// A block of sheet between fluid and a flat tool at one pressure, stretched along an axis of the material
/// with its width held, by the solver's section; perfectly plastic, yield stress 250 MPa along rolling.
struct SqueezedBlock {
  double first_yield = 0;  ///< stress along at the end of the elastic range [MPa]
  double flow = 0;         ///< stress along at 10 percent of stretch [MPa]
  double exact_first_yield = 0, exact_flow = 0;
};
SqueezedBlock stretch_squeezed_block(const PointSheet& sheet, double pressure, bool across_rolling);

}  // namespace halftool::test
