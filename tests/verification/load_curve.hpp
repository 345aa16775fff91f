#pragma once
#include <array>
#include <functional>
#include <span>
#include <string>
#include <vector>

namespace halftool::test {

/// Displacements under a share of the greatest load; what each stands for is the problem's to say, those it
/// has no use for are zero.
struct LoadPoint {
  double share = 0;
  std::array<double, 3> displacement{};
};
using LoadTable = std::span<const LoadPoint>;
using LoadCurve = std::vector<LoadPoint>;

/// A mesh and membrane to compute a problem with.
struct MeshChoice {
  int divisions = 8;
  unsigned seed = 0;  ///< of the irregular mesh; 0: structured
  bool bows = true;   ///< mid-side bows as unknowns
};

/// Where a computed curve differs most from a table.
struct Miss {
  double share = 0;
  double computed = 0;
  double table = 0;
  double error = 0;  ///< signed, relative
};

/// Both at the same loads. The tables have three decimals: half of the last one is not a miss.
/// @param column    which displacement
/// @param measure   what the error is relative to; 0: the row's own displacement
/// @param counts    the shares to look at; none: all
Miss largest_miss(LoadTable computed, LoadTable table, int column, double measure = 0,
                  const std::function<bool(double share)>& counts = {});

/// A published load-displacement curve and our computation of it at the same loads.
struct CurveProblem {
  LoadTable table;
  std::vector<std::string> displacements;  ///< what the columns are
  std::function<LoadCurve(const MeshChoice&)> run;
};

}  // namespace halftool::test
