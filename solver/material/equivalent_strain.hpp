#pragma once
#include <Eigen/Core>

#include "solver/material/plane_yield.hpp"

namespace halftool::solver {

/// Equivalent plastic strain of one straight stretch: what the flow stress has to be multiplied by for the
/// work, the largest stress times strain over all stresses on the yield surface of size 1 (normal flow; Hill
/// 1950, ch. 2 and 12). Grows in proportion to the strain; 0 for none.
/// @param strain  [11, 22, 2*12] in the axes of the yield condition
double equivalent_strain(const MovingYield& yield, const Eigen::Vector3d& strain);

}  // namespace halftool::solver
