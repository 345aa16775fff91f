#pragma once
#include <array>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A sheet with published coefficients of Yld2000-2d and what an independent computation of the condition,
/// from its principal values, returns for them: yield stress over that of the hardening law and r-value in
/// tension at 0, 15, ..., 90 degrees, and the equibiaxial ratio.
struct Yld2000Sheet {
  const char* name;
  solver::Yld2000 yield;
  std::array<double, 7> ratio;
  std::array<double, 7> r_value;
  double equibiaxial;
  double ratio_print, r_print;  ///< half of the last printed figure
};

/// AA2090-T3: Barlat and others (2003), from memory. AA6022-T4: Tian and others (2016), AA6016-T4: benchmark
/// of the ESAFORM conference 2021, both as a public data set gives them, returned values included. DP780: as
/// a public data set gives it.
inline const std::vector<Yld2000Sheet>& yld2000_sheets() {
  static const std::vector<Yld2000Sheet> sheets = {
      {"AA2090-T3",
       {8, {.4865, 1.3783, .7536, 1.0246, 1.0363, .9036, 1.2321, 1.4858}},
       {1, .9568, .8671, .8110, .8206, .8753, .9100},
       {.211, .406, 1.065, 1.580, 1.350, .888, .692},
       1.035,
       5e-5,
       5e-4},
      {"AA6022-T4",
       {8, {.919, 1.072, 1.204, 1.109, .992, .892, .957, 1.098}},
       {.9997, .9959, .9854, .9726, .9618, .9540, .9508},
       {.8215, .7089, .5217, .4171, .4131, .4732, .5126},
       .9298,
       5e-5,
       5e-5},
      {"AA6016-T4",
       {8, {.9238, .9967, .9365, 1.0227, 1.0303, 1.0075, .8385, 1.3761}},
       {1, .980, .9336, .908, .9264, .9662, .9831},
       {.5261, .3643, .2521, .2530, .2791, .4215, .6013},
       .991,
       5e-5,
       5e-5},
      {"DP780",
       {6, {.972408, .96969, .984209, .985587, 1.00994, .964962, 1.01517, 1.01556}},
       {1, .9969, .9912, .991, 1.001, 1.0153, 1.022},
       {.776, .840, .990, 1.103, 1.078, .969, .913},
       1.010,
       5e-5,
       5e-4}};
  return sheets;
}

}  // namespace halftool::test
