#pragma once
#include <gtest/gtest.h>
#include <sys/types.h>

#include <functional>
#include <string>
#include <vector>

#include "tests/support/scratch_folder.hpp"

namespace halftool::test {

/// What the program said and ended with.
struct Answer {
  int code = -1;  ///< exit code; -1: ended by a signal
  std::string out;
  std::string err;
};

/// A test of the built program, in an empty working folder of its own that is removed at the end.
class Program : public ::testing::Test {
 protected:
  void SetUp() override;

  /// Runs halftool in the working folder and waits for its end.
  [[nodiscard]] Answer run(const std::vector<std::string>& arguments) const;
  /// The same, but sends SIGINT as soon as the error stream holds a text.
  [[nodiscard]] Answer interrupt_at(const std::string& text, const std::vector<std::string>& arguments) const;

  [[nodiscard]] std::filesystem::path work() const { return place_ / "work"; }
  void write(const std::string& name, const std::string& text) const;

 private:
  [[nodiscard]] pid_t start(const std::vector<std::string>& arguments) const;
  [[nodiscard]] Answer answer_of(pid_t process) const;

  const halftool::test::ScratchFolder scratch_;
  const std::filesystem::path& place_ = scratch_.path();
};

std::string text_of(const std::filesystem::path& file);

}  // namespace halftool::test
