#include "tests/verification/load_curve.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::test {

Miss largest_miss(LoadTable computed, LoadTable table, int column, double measure,
                  const std::function<bool(double share)>& counts) {
  constexpr double kHalfDecimal = 0.0005;
  Miss worst;
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (counts && !counts(table[i].share)) continue;
    const double ours = computed[i].displacement[column];
    const double theirs = table[i].displacement[column];
    const double size = std::max(0.0, std::abs(ours - theirs) - kHalfDecimal);
    const double error = std::copysign(size / (measure > 0 ? measure : std::abs(theirs)), ours - theirs);
    if (std::abs(error) >= std::abs(worst.error)) worst = {table[i].share, ours, theirs, error};
  }
  return worst;
}

}  // namespace halftool::test
