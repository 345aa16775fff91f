#pragma once
#include <vector>

#include "tests/support/fibre_bending.hpp"

namespace halftool::test {

/// Rules of quadrature through the thickness. The solver has Gauss's; the others exist for this study.
enum class Rule { gauss, lobatto, midpoint, simpson };
inline constexpr Rule kRules[] = {Rule::gauss, Rule::lobatto, Rule::midpoint, Rule::simpson};
const char* name_of(Rule rule);

/// Points in [-1/2, 1/2], ascending, and weights (sum 1).
/// @param n  at least 2; odd for Simpson's composite rule
std::vector<FibrePlace> places_of(Rule rule, int n);

/// Springback of a bend where the thickness is summed by a rule; against bend_and_release(bend) only the
/// quadrature differs, for both follow each point's rate equations alike.
double springback_by(const FibreBend& bend, Rule rule, int n);

/// Bending moment of a perfectly plastic wide sheet with linear strain by the solver's own update and n Gauss
/// points, over the exact one, minus 1; R/t = 10.
double gauss_moment_error(int n);

/// Independent reckoning of the same (no published source): Gauss points, error in percent.
inline constexpr double kGaussMomentPercent[][2] = {{3, -13.8}, {5, -5.3},  {7, -2.8},  {9, -1.7},
                                                    {11, -1.1}, {15, -0.5}, {25, -0.07}};

}  // namespace halftool::test
