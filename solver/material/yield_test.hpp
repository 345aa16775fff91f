#pragma once
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// What a yield condition says of a test.
struct YieldTest {
  double ratio = 0;  ///< yield stress over the flow stress of the hardening law
  double r_value =
      0;  ///< width over thickness strain; in equibiaxial tension strain across over along rolling
};
/// Tension at an angle to the rolling direction [rad]. Stress and flow (normal to the yield surface) follow
/// from the condition's own source. Coefficients that are given as tests are fitted to them in each call.
YieldTest tension_test(const YieldCondition& yield, double angle);
YieldTest equibiaxial_test(const YieldCondition& yield);

}  // namespace halftool::solver
