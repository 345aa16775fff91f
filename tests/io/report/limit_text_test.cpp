#include "io/report/limit_text.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace halftool::io {
namespace {

using testing::HasSubstr;

solver::EstimatedLimit estimate(double n, double thickness) {
  solver::SheetMaterial sheet;
  sheet.youngs_modulus = 207e3;
  sheet.hardening = solver::SwiftHardening{500, 1e-9, n};
  return solver::estimated_limit(sheet, thickness);
}

// (23.3 + 14.13 * 1.5) 0.2/0.21 = 42.4 %, ln 1.424 = 0.353.
TEST(LimitText, ShowsTheFormulaWithWhatWasPutIn) {
  const auto text = estimate_formula(estimate(0.2, 1.5));
  EXPECT_THAT(text, HasSubstr("(23.3 + 14.13 t) n/0.21 = 42.4 % engineering, true strain 0.353"));
  EXPECT_THAT(text, HasSubstr("n 0.2 (counts up to 0.21)"));
  EXPECT_THAT(text, HasSubstr("t 1.5 mm (counts up to 3 mm)"));
}

TEST(LimitText, SaysWhereACapActs) {
  const auto text = estimate_formula(estimate(0.3, 4));
  EXPECT_THAT(text, HasSubstr("true strain 0.505"));  // ln(1 + 0.233 + 0.1413 * 3)
  EXPECT_THAT(text, HasSubstr("n 0.3, which counts as 0.21"));
  EXPECT_THAT(text, HasSubstr("t 4 mm, which counts as 3 mm"));
}

}  // namespace
}  // namespace halftool::io
