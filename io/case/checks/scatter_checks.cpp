#include "io/case/checks/case_checks.hpp"
#include "io/case/quantity.hpp"
#include "solver/assessment/varied_sheet.hpp"

namespace halftool::io {

void check_scatter(const CheckedCase& c) {
  const Scatter& scatter = c.values.scatter;
  constexpr double most = 0.3;  // of the thickness; our judgement
  if (scatter.thickness && c.sound({"scatter.thickness", "sheet.thickness"}) &&
      *scatter.thickness > most * c.values.blank.thickness)
    c.error("scatter.thickness", print_quantity(*scatter.thickness, Dimension::length, "mm"),
            "at most 30 % of the sheet's thickness", "write the tolerance, not the thickness");
  if (scatter.exponent && c.sound({"scatter.exponent", "sheet.material"}) &&
      !solver::with_exponent(c.values.material, 1 + *scatter.exponent))
    c.error("scatter.exponent", "a range for a law whose exponent cannot take it",
            "any law but two surfaces, with an exponent below 1",
            "leave it out, or let scatter.strength vary");
}

}  // namespace halftool::io
