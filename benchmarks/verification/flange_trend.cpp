#include <fmt/format.h>

#include <algorithm>

#include "benchmarks/verification/flange_sheets.hpp"
#include "benchmarks/verification/problems.hpp"
#include "io/case/case.hpp"

namespace halftool::verification {
namespace {

const char* const kDiscussion =
    "Sheets and their constants are those of the stock, 1 mm thick unless said; friction 0.1, to 60 MPa; the "
    "shapes are invented. "
    "Stretch: rims of holes, closed rings on a wall of 30 mm radius. The strain along the edge is that of "
    "its "
    "growing radius whatever the sheet; what sheets differ in is what an edge bears. The limit is the local "
    "neck in uniaxial tension, (1 + r) n of a power law, in the direction of the least r-value; the diffuse "
    "neck at n stands in the remarks. Both are of a smooth edge: a punched or scratched one splits earlier, "
    "and no hole expansion test of these sheets was found. "
    "Shrink: sectors of 60 degrees between free ends round a block. Yilgin and others found by trial that a "
    "shrink flange wrinkles the more, the longer it is, the thinner the sheet and the smaller the radius in "
    "plan; of their paper the abstract was read, not the charts, so that the trend alone is compared. Of "
    "strength a report on wrinkling (Selman 1999, its beginning read) says only that the use of thinner and "
    "stronger sheet makes wrinkles more of a trouble. A wave counts where it is left 0.05 mm high, 5 % of "
    "the "
    "thickness; what is left of a wave hangs on where it snapped and scatters with mesh and steps.";

Report run() {
  Report report;
  add_splits(report);
  add_waves(report);
  report.discussion = kDiscussion;
  return report;
}

}  // namespace

std::vector<FlangeSheet> flange_sheets() {
  std::vector<FlangeSheet> sheets;
  for (const char* key : {"AA6061-O", "AA2024-O", "AA7075-O", "steel-N93"})
    sheets.push_back(
        {key, io::parse_sheet(fmt::format("[sheet.material]\nstock = \"{}\"\n", key), key).material});
  return sheets;
}

Row rising(const std::string& quantity, const std::string& mesh, double ratio) {
  Row row;
  row.quantity = quantity;
  row.mesh = mesh;
  row.value = ratio;
  row.reference = 1;
  row.error = std::min(0.0, ratio - 1);
  row.allowed = 0;
  return row;
}

Problem flange_trend() {
  return {"flange-trend",
          "Lengths at which curved flanges of four sheets wrinkle or split",
          "Flange",
          "waves: Yilgin, Yilmaz, Ozturk and Hatipoglu, Res. Dev. Mater. Sci. 16 (2021) 000877 (abstract); "
          "strain: ln(R/R0), own arithmetic; necks: Considere 1885, Hill, J. Mech. Phys. Solids 1 (1952) 19 "
          "(both from memory)",
          Evidence::published,
          run};
}

}  // namespace halftool::verification
