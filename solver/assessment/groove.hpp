#pragma once
#include <Eigen/Core>
#include <optional>

#include "solver/material/hardening.hpp"
#include "solver/material/plane_yield.hpp"

namespace halftool::solver {

/// A metal that hardens isotropically and does not spring.
struct GrooveMetal {
  MovingYield yield;
  FlowCurve curve;
  double rate_exponent = 0;    ///< m, flow stress goes as the m-th power of the strain rate; >= 0
  double normal_pressure = 0;  ///< on both faces [MPa], between flat tools: see groove_limit; >= 0
};

/// Proportional stretching along the axes of the metal.
struct StraightPath {
  Eigen::Vector3d stress;  ///< [11 + 22, 11 - 22, 2*12] over the flow stress
  Eigen::Vector3d flow;    ///< plastic strain [(11 + 22)/2, (11 - 22)/2, 12] over the equivalent one
  double along = 0;        ///< angle of the major strain from the rolling direction [rad]: 0 or pi/2
  double major = 0;        ///< major strain over the equivalent plastic strain
  double ratio = 0;        ///< minor over major strain
};
/// @param ratio  minor over major strain, above -1, at most 1
/// @param along  0 or pi/2
StraightPath straight_path(const MovingYield& yield, double ratio, double along);

/// A groove across the sheet.
struct Groove {
  double imperfection = 0;  ///< by how much it is thinner than the sheet, over the sheet's thickness; > 0
  double turn = 0;          ///< first angle of its normal from the major strain [rad], 0 to pi/2
};

/// Steps of equivalent plastic strain in the groove.
struct GrooveSteps {
  double length = 0;    ///< the first ones are shorter
  double share = 0.01;  ///< of the strain reached, where that is longer: a metal may neck early or late
  double farthest = 4;  ///< where a groove that has not taken over is followed no more
  double enough = 4;    ///< the same of the sheet
  double taken = 0.01;  ///< strain rate of the sheet over the groove's at which the groove has taken over
};

/// Equivalent plastic strain that the sheet beside a groove reaches on a straight path: the groove then takes
/// all further strain. Force across the groove is in balance, strain along it is shared, the material line of
/// the groove turns with the sheet, elastic strain is neglected. Marciniak and Kuczynski, Int. J. Mech. Sci.
/// 9 (1967) 609-620; oblique grooves: Hutchinson and Neale, Sheet necking II, in Mechanics of Sheet Metal
/// Forming (1978). The strain of the groove is prescribed, so that the end is the sheet's strain rate
/// falling to zero and no ratio of rates need be chosen; second order in the step (BDF2).
/// Where flow stress rises with the strain rate, that of the sheet over the groove's is the m-th power of the
/// ratio of their rates: Hutchinson and Neale, Acta Metall. 25 (1977) 839-846; Sheet necking III (1978). The
/// sheet's rate then falls to zero slowly; from `taken` on it goes on falling as in the last step.
/// A normal pressure shifts what yields: the metal flows under the stress in the plane plus the pressure,
/// while the force across the groove is of the former alone. That is a groove pressed by faces that stay
/// flat. A fluid that follows the groove's flanks pushes the sheet on into it, which takes the whole shift
/// away (own arithmetic: pressure all round leaves necking of a metal that yields regardless of it as it
/// was).
/// @return  what was reached at `farthest` or `enough` by a groove that has not taken over there; nothing if
/// no balance was found
std::optional<double> groove_limit(const GrooveMetal& metal, const StraightPath& path, const Groove& groove,
                                   const GrooveSteps& steps);

}  // namespace halftool::solver
