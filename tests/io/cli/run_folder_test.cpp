#include "io/cli/run_folder.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <optional>
#include <sstream>

#include "io/results/write_file.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::io {
namespace {

namespace fs = std::filesystem;

class RunFolderTest : public testing::Test {
 protected:
  [[nodiscard]] size_t entries() const {
    return static_cast<size_t>(std::distance(fs::directory_iterator(place_), fs::directory_iterator()));
  }
  static void write(const fs::path& file, const std::string& text) { std::ofstream(file) << text; }
  static std::string read(const fs::path& file) {
    std::ostringstream text;
    text << std::ifstream(file).rdbuf();
    return text.str();
  }
  /// A finished run that holds one file.
  void make_run(const std::string& text) {
    RunFolder run(place_ / "run", {.replace = true});
    write(run.work() / "summary.json", text);
    run.keep();
  }

  const halftool::test::ScratchFolder scratch_;
  const fs::path& place_ = scratch_.path();
};

TEST_F(RunFolderTest, GetsItsNameOnlyWhenTheRunIsKept) {
  RunFolder run(place_ / "run", {});
  write(run.work() / "summary.json", "1");
  EXPECT_FALSE(fs::exists(place_ / "run"));
  run.keep();
  EXPECT_EQ(read(place_ / "run" / "summary.json"), "1");
  EXPECT_EQ(entries(), 1U);
}

TEST_F(RunFolderTest, LeavesNothingWhenTheRunIsNotKept) {
  { RunFolder run(place_ / "run", {}); }
  EXPECT_EQ(entries(), 0U);
}

TEST_F(RunFolderTest, RefusesAFolderThatHoldsSomething) {
  make_run("old");
  EXPECT_THROW(RunFolder(place_ / "run", {}), FolderError);
  EXPECT_EQ(read(place_ / "run" / "summary.json"), "old");
  EXPECT_EQ(entries(), 1U);
}

TEST_F(RunFolderTest, ReplacesOnlyWhenTheNewRunIsComplete) {
  make_run("old");
  { RunFolder run(place_ / "run", {.replace = true}); }
  EXPECT_EQ(read(place_ / "run" / "summary.json"), "old");
  make_run("new");
  EXPECT_EQ(read(place_ / "run" / "summary.json"), "new");
  EXPECT_EQ(entries(), 1U);
}

TEST_F(RunFolderTest, NeverRemovesAFolderThatIsNotOurs) {
  fs::create_directories(place_ / "run");
  write(place_ / "run" / "thesis.txt", "years of work");
  EXPECT_THROW(RunFolder(place_ / "run", {.replace = true}), FolderError);
  EXPECT_TRUE(fs::exists(place_ / "run" / "thesis.txt"));
}

TEST_F(RunFolderTest, RefusesAFileOfThatName) {
  write(place_ / "run", "a file");
  EXPECT_THROW(RunFolder(place_ / "run", {.replace = true}), FolderError);
  EXPECT_EQ(read(place_ / "run"), "a file");
}

TEST_F(RunFolderTest, AnEmptyFolderIsFree) {
  fs::create_directories(place_ / "run");
  RunFolder run(place_ / "run", {});
  write(run.work() / "summary.json", "1");
  run.keep();
  EXPECT_TRUE(fs::exists(place_ / "run" / "summary.json"));
}

TEST_F(RunFolderTest, KeepsAnIncompleteRunWithItsReason) {
  RunFolder run(place_ / "run", {});
  write(run.work() / "formed.vtu", "half of it");
  run.keep_incomplete("no equilibrium at 31 MPa", false);
  EXPECT_EQ(read(place_ / "run" / "formed.vtu"), "half of it");
  EXPECT_NE(read(place_ / "run" / "NOT-COMPLETE.txt").find("no equilibrium at 31 MPa", false),
            std::string::npos);
  EXPECT_NO_THROW(RunFolder(place_ / "run", {.replace = true}));  // and it may be replaced
}

TEST_F(RunFolderTest, TakesUpARunThatTheUserStopped) {
  {
    RunFolder run(place_ / "run", {});
    write(run.checkpoint(), "point");
    write(run.work() / "summary.json", "half");
    run.keep_incomplete("stopped by the user", true);
  }
  EXPECT_TRUE(can_go_on(place_ / "run"));
  {
    RunFolder again(place_ / "run", {.go_on = true});
    EXPECT_EQ(read(again.checkpoint()), "point");
    again.keep();
  }
  EXPECT_EQ(read(place_ / "run" / "summary.json"), "half");
  EXPECT_FALSE(fs::exists(place_ / "run" / "NOT-COMPLETE.txt"));
  EXPECT_FALSE(fs::exists(place_ / "run" / kCheckpointName));
  EXPECT_FALSE(can_go_on(place_ / "run"));
  EXPECT_EQ(entries(), 1U);
}

// A machine that fails leaves the hidden folder of a process that is gone.
TEST_F(RunFolderTest, TakesUpARunThatEndedWithoutAWordAndPutsItBackIfThatFails) {
  const fs::path left = place_ / ".run.part-999999999";
  fs::create_directory(left);
  EXPECT_THROW(RunFolder(place_ / "run", {.go_on = true}), FolderError);  // no checkpoint in it
  write(left / kCheckpointName, "point");
  { const RunFolder again(place_ / "run", {.go_on = true}); }
  EXPECT_EQ(read(left / kCheckpointName), "point");
  RunFolder again(place_ / "run", {.go_on = true});
  EXPECT_FALSE(fs::exists(left));
  again.keep();
  EXPECT_EQ(entries(), 1U);
}

TEST_F(RunFolderTest, DoesNotTakeUpARunThatIsGoingOn) {
  std::optional<RunFolder> busy(std::in_place, place_ / "run", FolderUse{});
  write(busy->checkpoint(), "point");
  EXPECT_FALSE(can_go_on(place_ / "run"));
  EXPECT_THROW(RunFolder(place_ / "run", {.go_on = true}), FolderError);
  EXPECT_TRUE(fs::exists(busy->checkpoint()));
  busy.reset();
  EXPECT_TRUE(can_go_on(place_ / "run"));
}

TEST_F(RunFolderTest, KeepsTheCheckpointOfARunThatIsNotKept) {
  {
    const RunFolder run(place_ / "run", {});
    write(run.checkpoint(), "point");
  }
  EXPECT_TRUE(can_go_on(place_ / "run"));
}

TEST_F(RunFolderTest, NoCheckpointOfARunThatFailedStays) {
  RunFolder run(place_ / "run", {});
  write(run.checkpoint(), "point");
  run.keep_incomplete("no equilibrium at 31 MPa", false);
  EXPECT_FALSE(can_go_on(place_ / "run"));
}

TEST_F(RunFolderTest, MakesMissingParentsAndAcceptsATrailingSlash) {
  RunFolder run(place_ / "a" / "b" / "", {});
  write(run.work() / "summary.json", "1");
  run.keep();
  EXPECT_TRUE(fs::exists(place_ / "a" / "b" / "summary.json"));
}

TEST_F(RunFolderTest, RefusesAParentThatIsAFile) {
  write(place_ / "file", "x");
  EXPECT_THROW(RunFolder(place_ / "file" / "run", {}), FolderError);
}

TEST_F(RunFolderTest, DoesNotOverwriteWhatAppearedMeanwhile) {
  RunFolder run(place_ / "run", {});
  write(run.work() / "summary.json", "mine");
  fs::create_directories(place_ / "run");
  write(place_ / "run" / "summary.json", "theirs");
  EXPECT_THROW(run.keep(), WriteError);
  EXPECT_EQ(read(place_ / "run" / "summary.json"), "theirs");
  EXPECT_EQ(read(run.work() / "summary.json"), "mine");
}

TEST(DefaultRunFolder, IsNamedAfterTheCase) {
  EXPECT_EQ(default_run_folder("cases/bracket/bracket.toml"), fs::current_path() / "bracket.halftool-run");
}

}  // namespace
}  // namespace halftool::io
