#include "mesh/step_trial.hpp"

#include <gmock/gmock.h>

#include <csignal>
#include <fstream>
#include <functional>
#include <regex>
#include <sstream>

#include "mesh/step_outline.hpp"
#include "mesh/tool_surface.hpp"
#include "tests/support/curved_block.hpp"
#include "tests/support/stl_files.hpp"

namespace halftool::mesh {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::StartsWith;
using ::testing::ThrowsMessage;
using StepFile = halftool::testing::PassingFile;

std::string text_of_block() {
  const StepFile file("block.step");
  halftool::testing::write_step({}, file.path());
  std::stringstream text;
  text << std::ifstream(file.path()).rdbuf();
  return text.str();
}

/// A file of the block in whose text the first match of a pattern is replaced.
class ChangedBlock {
 public:
  ChangedBlock(const std::string& pattern, const std::string& replacement,
               std::regex_constants::match_flag_type flags = std::regex_constants::format_first_only)
      : file_("tool.step") {
    const std::string whole = text_of_block();
    const std::string changed = std::regex_replace(whole, std::regex(pattern), replacement, flags);
    EXPECT_NE(changed, whole) << "nothing matches " << pattern;
    std::ofstream(file_.path()) << changed;
  }
  [[nodiscard]] const std::string& path() const { return file_.path(); }

 private:
  StepFile file_;
};

void make_from(const std::string& path) {
  ToolSpec spec;
  spec.shape = StepShape{path};
  make_tool(spec);
}

// Without the first point, loop, vector and edge, and with points of a wrong name, the reader of
// OpenCASCADE 7.6 ends with a signal.
TEST(StepTrial, FilesThatLackAnEntityAreRefusedWithFileLineAndMend) {
  for (const char* lost : {"CARTESIAN_POINT", "EDGE_LOOP", "VECTOR", "EDGE_CURVE", "CIRCLE", "ADVANCED_FACE",
                           "CYLINDRICAL_SURFACE", "VERTEX_POINT", "PLANE"}) {
    const ChangedBlock file("#[0-9]+ = " + std::string(lost) + "\\([^;]*;\\n", "");
    EXPECT_THAT([&] { make_from(file.path()); },
                ThrowsMessage<MeshError>(AllOf(HasSubstr("'tool.step' is damaged at line "), HasSubstr(", #"),
                                               HasSubstr("export it again from CAD"))))
        << lost;
    EXPECT_THAT([&] { read_planar_face(file.path()); },
                ThrowsMessage<MeshError>(HasSubstr("'tool.step' is damaged at line ")))
        << lost;
  }
  const ChangedBlock misnamed("CARTESIAN_POINT", "CARTESIANPOINT", std::regex_constants::format_default);
  EXPECT_THAT(
      [&] { make_from(misnamed.path()); },
      ThrowsMessage<MeshError>(AllOf(HasSubstr("is damaged at line "), HasSubstr("more of its entities"))));
}

TEST(StepTrial, TheLineNamedIsThatOfTheEntityThatRefersToWhatIsLost) {
  const ChangedBlock file("#[0-9]+ = VERTEX_POINT\\([^;]*;\\n", "");
  std::ifstream lines(file.path());
  const std::string fault = look_at_step(file.path()).damage;
  std::smatch found;
  ASSERT_TRUE(std::regex_search(fault, found, std::regex("^line ([0-9]+), (#[0-9]+ = [A-Z_]+)")));
  std::string line;
  for (int i = 0; i < std::stoi(found[1]); ++i) std::getline(lines, line);
  EXPECT_THAT(line, StartsWith(found[2].str()));
  EXPECT_THAT(fault, HasSubstr("which is not in the file"));
}

TEST(StepTrial, NumbersThatAreNoneAreNamed) {
  const ChangedBlock file("(CARTESIAN_POINT\\('',\\()[-0-9.E]+", "$1NaN");
  EXPECT_THAT([&] { make_from(file.path()); },
              ThrowsMessage<MeshError>(AllOf(HasSubstr("CARTESIAN_POINT('',(NaN"), HasSubstr("not a Real"))));
  const ChangedBlock far("(VERTEX_POINT[^;]*;\\n[^;]*CARTESIAN_POINT\\('',\\()[-0-9.E]+", "$011.E30");
  EXPECT_THAT([&] { make_from(far.path()); }, ThrowsMessage<MeshError>(HasSubstr(" m large; ")));
}

TEST(StepTrial, NamesAndPartsListsMayBeDamaged) {
  const ChangedBlock unnamed("(ADVANCED_FACE|CARTESIAN_POINT|LINE)\\(''", "$1($$",
                             std::regex_constants::format_default);
  EXPECT_THAT(look_at_step(unnamed.path()).damage, IsEmpty());
  EXPECT_NO_THROW(make_from(unnamed.path()));
  const ChangedBlock no_category("#[0-9]+ = PRODUCT_RELATED_PRODUCT_CATEGORY\\([^;]*;\\n", "");
  EXPECT_NO_THROW(make_from(no_category.path()));
}

TEST(StepTrial, FacesThatCannotBeMeshedAreNamedWithTheirFile) {
  // A loop that lacks one of its edges.
  const ChangedBlock file("(EDGE_LOOP\\('',\\()#[0-9]+,", "$1");
  EXPECT_THAT(
      [&] { make_from(file.path()); },
      ThrowsMessage<MeshError>(AllOf(HasSubstr("tool.step: meshing: "), HasSubstr(", on the face from ("),
                                     HasSubstr("export it again from CAD"))));
}

TEST(StepTrial, AnEndByASignalIsAnErrorOfThisProcess) {
  const StepFile file("good.step");
  halftool::testing::write_step({}, file.path());
  const auto trial_with = [&](int signal) {
    return [&file, signal] { try_step_file(file.path(), [signal] { std::raise(signal); }); };
  };
  EXPECT_THAT(trial_with(SIGSEGV), ThrowsMessage<MeshError>(AllOf(
                                       HasSubstr("'good.step' breaks the STEP reader (Segmentation fault)"),
                                       HasSubstr("export it again from CAD"))));
  EXPECT_THAT(trial_with(SIGABRT), ThrowsMessage<MeshError>(HasSubstr("breaks the STEP reader (Aborted)")));
  EXPECT_THAT(trial_with(SIGXCPU), ThrowsMessage<MeshError>(HasSubstr("keeps the STEP reader busy")));
  EXPECT_THAT(trial_with(SIGINT), ThrowsMessage<MeshError>(HasSubstr("reading 'good.step' was stopped")));
}

TEST(StepTrial, WhatTheTrialDoesAndThrowsStaysInTheChild) {
  const StepFile file("good.step");
  halftool::testing::write_step({}, file.path());
  int reached = 0;
  EXPECT_NO_THROW(try_step_file(file.path(), [&] {
    ++reached;
    throw MeshError("left to the caller");
  }));
  EXPECT_EQ(reached, 0);
}

}  // namespace
}  // namespace halftool::mesh
