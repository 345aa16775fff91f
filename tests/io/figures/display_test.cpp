#include "io/figures/display.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <filesystem>

#include "io/figures/scene.hpp"
#include "tests/io/figures/environment.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

TEST(Display, StartsAServerOfItsOwnAndStopsIt) {
  const test::Variable no_display("DISPLAY", nullptr);
  {
    const Display display;
    ASSERT_TRUE(display.available()) << display.reason();
    ASSERT_NE(std::getenv("DISPLAY"), nullptr);
    const std::string number = std::getenv("DISPLAY");
    EXPECT_TRUE(std::filesystem::exists("/tmp/.X11-unix/X" + number.substr(1)));
  }
  EXPECT_EQ(std::getenv("DISPLAY"), nullptr);
  EXPECT_EQ(waitpid(-1, nullptr, WNOHANG), -1);  // no child process is left
}

TEST(Display, WithoutAServerSaysWhatToInstall) {
  const test::Variable no_display("DISPLAY", nullptr);
  const test::Variable no_programs("PATH", "/nowhere");
  const Display display;
  EXPECT_FALSE(display.available());
  EXPECT_THAT(display.reason(), testing::HasSubstr("package xvfb"));
  EXPECT_EQ(std::getenv("DISPLAY"), nullptr);
}

TEST(Display, ADisplayThatDoesNotAnswerIsNotUsed) {
  const test::Variable dead("DISPLAY", ":4711");
  const test::Variable no_programs("PATH", "/nowhere");
  const Display display;
  EXPECT_FALSE(display.available());
  EXPECT_STREQ(std::getenv("DISPLAY"), ":4711");
}

TEST(Display, AProgramThatIsNoServerIsNotUsed) {
  const test::Variable no_display("DISPLAY", nullptr);
  const halftool::test::ScratchFolder folder;
  std::filesystem::create_symlink("/bin/false", folder.path() / "Xvfb");
  {
    const test::Variable only_that("PATH", folder.path().c_str());
    const Display display;
    EXPECT_FALSE(display.available());
    EXPECT_THAT(display.reason(), testing::HasSubstr("libgl1-mesa-dri"));
  }
}

TEST(Display, RenderingWithoutOneIsRefused) {
  const test::Variable no_display("DISPLAY", nullptr);
  const test::Variable no_programs("PATH", "/nowhere");
  const Display display;
  EXPECT_THROW(render(display, {}, {}), std::logic_error);
}

}  // namespace
}  // namespace halftool::io
