#include "solver/assembly/dense_kernels.hpp"

#include <gtest/gtest.h>

namespace halftool::solver {
namespace {

TEST(DenseKernels, NarrowOnesAreReplacedByTheWidestThatTheProcessorRuns) {
  EXPECT_EQ(fitting_kernels("Prescott", {true, true}), "SkylakeX");
  EXPECT_EQ(fitting_kernels("Barcelona", {true, false}), "Haswell");
}

TEST(DenseKernels, FittingAndUnknownOnesStay) {
  EXPECT_EQ(fitting_kernels("Prescott", {false, false}), "");
  for (const char* wide : {"Haswell", "SkylakeX", "Zen", "a later one"})
    EXPECT_EQ(fitting_kernels(wide, {true, true}), "");
}

// What is taken in the end is not replaced once more, or a program would start anew for ever.
TEST(DenseKernels, WhatIsProposedFits) {
  for (const VectorUnits units : {VectorUnits{true, true}, VectorUnits{true, false}})
    EXPECT_EQ(fitting_kernels(fitting_kernels("Prescott", units), units), "");
}

}  // namespace
}  // namespace halftool::solver
