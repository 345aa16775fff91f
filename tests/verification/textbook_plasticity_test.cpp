// Textbook exercises on the plasticity of sheet: see textbook_plasticity.hpp.
#include "tests/verification/textbook_plasticity.hpp"

#include <gtest/gtest.h>

namespace halftool::test {
namespace {

TEST(TextbookPlasticity, ExercisesGiveTheirPrintedResults) {
  for (const Printed& row : textbook_exercises())
    EXPECT_NEAR(row.value, row.printed, row.tolerance) << row.exercise << ", " << row.quantity;
}

}  // namespace
}  // namespace halftool::test
