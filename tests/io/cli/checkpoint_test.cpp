// Checkpoints of a pressing, written and read.
#include "io/cli/checkpoint.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "io/cli/run_folder.hpp"
#include "io/results/write_file.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/kinematic_sheets.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/scratch_folder.hpp"

namespace halftool::test {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

/// A small sheet in a state that no two members share a value of.
class CheckpointTest : public testing::Test {
 protected:
  CheckpointTest()
      : blank(blank_of(rectangle(4, 3, 4, 3), 1)),
        model(solver::make_model(blank, three_term_steel(), 3, true)) {}

  [[nodiscard]] io::PressJournal journal() const {
    return {silence, io::ProgressStyle::silent, blank, std::nullopt, std::nullopt, three_term_steel()};
  }
  [[nodiscard]] solver::PressingState pressing() const {
    solver::PressingState state(model, settings, 7);
    state.sheet = solver::initial_state(model);
    state.sheet.pressure = 12.5;
    state.sheet.place.turn.setLinSpaced(0.1, 0.9);
    for (std::size_t i = 0; i < state.sheet.history.size(); ++i) state.sheet.history[i] = 0.25 * double(i);
    for (auto& memory : state.sheet.memory) memory.tool_facet = 42;
    state.sheet.memory.back().friction = {{0.1, 0.2, 0.3}, true};
    state.volume_gradient.setLinSpaced(model.equations.count, 1, 2);
    state.shift.setLinSpaced(model.equations.count, 3, 4);
    state.damping = 0.125;
    state.snaps_in_a_row = 3;
    state.stays_indefinite = 2;
    state.at_rest = true;
    state.increments = 17;
    return state;
  }
  [[nodiscard]] io::CheckpointTerms terms() const {
    return {"[a]\nx = 1 # of old\n", &blank.mesh, {&blank.mesh}};
  }
  void write(const fs::path& to) const {
    io::JobProgress progress;
    progress.step = 2;
    progress.seconds = 61;
    progress.record.iterations = 345;
    progress.trims = {{"first", 0.75, 0.5}};
    progress.unknowns = 99;
    progress.blank = blank;
    io::write_checkpoint(to, terms(), progress, journal(), pressing());
  }

  mutable std::ostringstream silence;
  const mesh::Blank blank;
  const solver::SheetModel model;
  const solver::SolverSettings settings;
  const ScratchFolder scratch;
  const fs::path file = scratch.path() / io::kCheckpointName;
};

TEST_F(CheckpointTest, CarriesAllMembers) {
  write(file);
  io::CheckpointReader reader(file, terms());
  const io::JobProgress progress = reader.progress();
  EXPECT_EQ(progress.step, 2U);
  EXPECT_EQ(progress.seconds, 61);
  EXPECT_EQ(progress.record.iterations, 345);
  ASSERT_EQ(progress.trims.size(), 1U);
  EXPECT_EQ(progress.trims[0].after_step, "first");
  EXPECT_EQ(progress.unknowns, 99);
  EXPECT_EQ(progress.blank.mesh.nodes, blank.mesh.nodes);
  EXPECT_EQ(progress.blank.edge_kind, blank.edge_kind);

  solver::PressingState read(model, settings);
  io::PressJournal follower = journal();
  reader.read(follower, read);
  const solver::PressingState then = pressing();
  EXPECT_EQ(read.sheet.pressure, then.sheet.pressure);
  EXPECT_EQ(read.sheet.place.positions, then.sheet.place.positions);
  EXPECT_EQ(read.sheet.place.turn, then.sheet.place.turn);
  ASSERT_FALSE(then.sheet.history.empty());
  EXPECT_EQ(read.sheet.history, then.sheet.history);
  EXPECT_EQ(read.sheet.memory.front().tool_facet, 42);
  EXPECT_EQ(read.sheet.memory.back().friction.slip, then.sheet.memory.back().friction.slip);
  EXPECT_TRUE(read.sheet.memory.back().friction.touching);
  EXPECT_EQ(read.volume_gradient, then.volume_gradient);
  EXPECT_EQ(read.shift, then.shift);
  EXPECT_EQ(read.damping, 0.125);
  EXPECT_EQ(read.snaps_in_a_row, 3);
  EXPECT_EQ(read.stays_indefinite, 2);
  EXPECT_TRUE(read.at_rest);
  EXPECT_EQ(read.increments, 17);
  EXPECT_EQ(read.path.next(read.sheet, 100).control.volume, 7);
}

TEST_F(CheckpointTest, CommentsAndThreadsDoNotCountButKeysAndMeshesDo) {
  write(file);
  io::CheckpointTerms other = terms();
  other.case_text = "[a]\nx = 1\nthreads = 2\n";
  EXPECT_NO_THROW(io::CheckpointReader(file, other));
  other.case_text = "[a]\nx = 2\n";
  try {
    const io::CheckpointReader reader(file, other);
    FAIL();
  } catch (const io::FolderError& error) {
    EXPECT_THAT(error.what(), HasSubstr("then  [a] x = 1\n    now   [a] x = 2"));
  }
  other = terms();
  mesh::SurfaceMesh moved = blank.mesh;
  moved.nodes(0, 0) += 1e-12;
  other.tools = {&moved};
  EXPECT_THROW(io::CheckpointReader(file, other), io::FolderError);
}

TEST_F(CheckpointTest, WhatCannotBeWrittenLeavesTheLastOneAndIsSaid) {
  write(file);
  const auto size = fs::file_size(file);
  EXPECT_THROW(write(scratch.path() / "missing" / "file"), io::WriteError);
  fs::create_directory(file.string() + ".part");  // in the way
  EXPECT_THROW(write(file), io::WriteError);
  EXPECT_EQ(fs::file_size(file), size);
}

TEST_F(CheckpointTest, ForeignAndTornFilesAreRefused) {
  std::ofstream(file) << "not ours, and long enough to hold a number of letters for the mark and more";
  EXPECT_THROW(io::CheckpointReader(file, terms()), io::FolderError);
  write(file);
  fs::resize_file(file, fs::file_size(file) - 8);
  io::CheckpointReader reader(file, terms());
  solver::PressingState read(model, settings);
  io::PressJournal follower = journal();
  (void)reader.progress();
  EXPECT_THROW(reader.read(follower, read), io::FolderError);
}

}  // namespace
}  // namespace halftool::test
