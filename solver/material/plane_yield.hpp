#pragma once
#include <variant>

#include "solver/material/moving_yield.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::solver {

/// The yield condition in the form in which it is computed; isotropic elasticity alone stands for von Mises.
using PlaneYield = std::variant<PlaneModuli, HillPlane, YldPlane>;
/// Coefficients that are given as tests are fitted to them.
PlaneYield plane_yield(const PlaneModuli& moduli, const YieldCondition& yield);

/// The same with its normal and curvature at a direction of stress.
using MovingYield = std::variant<QuadraticYield, MovingYld2000>;
MovingYield moving_yield(const PlaneYield& yield);

}  // namespace halftool::solver
