#pragma once
#include <gtest/gtest.h>

#include "tests/support/scratch_folder.hpp"

namespace halftool::io::test {

/// A test with an empty folder of its own.
class ResultFolder : public testing::Test {
 protected:
  const halftool::test::ScratchFolder scratch_;
  const std::filesystem::path& folder_ = scratch_.path();
};

}  // namespace halftool::io::test
