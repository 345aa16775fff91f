#include "io/cli/progress.hpp"

#include <gtest/gtest.h>

#include <csignal>
#include <sstream>

namespace halftool::io {
namespace {

solver::Progress at(double pressure, double share) {
  return {.phase = solver::Phase::forming,
          .pressure = pressure,
          .target_pressure = 100,
          .increments = 42,
          .iterations = 215,
          .worst_thinning = 0.0312,
          .share_done = share};
}

TEST(DurationText, SuitsItsLength) {
  EXPECT_EQ(duration_text(0.2), "0 s");
  EXPECT_EQ(duration_text(59.4), "59 s");
  EXPECT_EQ(duration_text(59.6), "1 min 00 s");
  EXPECT_EQ(duration_text(185), "3 min 05 s");
  EXPECT_EQ(duration_text(7805), "2 h 10 min");
}

TEST(ProgressLine, SaysWhereTheComputationStands) {
  EXPECT_EQ(progress_line(at(12.3, 0.25), 40),
            "pressing    12.30 of 100 MPa, 42 increments, 215 iterations, worst thinning 3.1 %, 40 s, about "
            "2 min 00 s left");
  EXPECT_EQ(progress_line(at(0.1, 0.001), 1),
            "pressing     0.10 of 100 MPa, 42 increments, 215 iterations, worst thinning 3.1 %, 1 s");
}

TEST(ShareOfJob, CountsStepsAndThenTheRelease) {
  EXPECT_DOUBLE_EQ(share_of_job(at(1, 0.25), 0, 1), 0.88 * 0.25);
  EXPECT_DOUBLE_EQ(share_of_job(at(1, 0.5), 1, 2), 0.88 * 0.75);
  auto release = at(10, 0.5);
  release.phase = solver::Phase::release;
  EXPECT_DOUBLE_EQ(share_of_job(release, 0, 2), 0.88 * 0.5);  // between two steps
  EXPECT_DOUBLE_EQ(share_of_job(release, 1, 2), 1 - 0.12 * 0.5);
  release.share_done = 1;
  EXPECT_DOUBLE_EQ(share_of_job(release, 1, 2), 1);
}

TEST(ProgressMonitor, PrintsPlainLinesNowAndThen) {
  std::ostringstream out;
  double now = 0;
  ProgressMonitor monitor(out, ProgressStyle::plain, [&] { return now; });
  for (; now < 11; now += 0.5) monitor.accepted(at(now, now / 11), {});
  const auto text = out.str();
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 3);  // at 0, 5 and 10 s
  EXPECT_EQ(text.find('\r'), std::string::npos);
}

TEST(ProgressMonitor, PrintsATurnOfPhaseAtOnce) {
  std::ostringstream out;
  ProgressMonitor monitor(out, ProgressStyle::plain, [] { return 0.0; });
  monitor.accepted(at(1, 0.1), {});
  auto release = at(90, 0.9);
  release.phase = solver::Phase::release;
  monitor.accepted(release, {});
  EXPECT_NE(out.str().find("release"), std::string::npos);
}

TEST(ProgressMonitor, RewritesOneLineOnATerminal) {
  std::ostringstream out;
  double now = 0;
  {
    ProgressMonitor monitor(out, ProgressStyle::live, [&] { return now; });
    for (; now < 3; now += 0.5) monitor.accepted(at(now, now / 3), {});
    const auto text = out.str();
    EXPECT_EQ(std::count(text.begin(), text.end(), '\r'), 6);
    EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 0);
  }
  EXPECT_TRUE(out.str().ends_with('\n'));
}

TEST(ProgressMonitor, NotesStandOnTheirOwnLine) {
  std::ostringstream out;
  ProgressMonitor monitor(out, ProgressStyle::live, [] { return 0.0; });
  monitor.accepted(at(1, 0.1), {});
  monitor.note("a negative pivot");
  EXPECT_TRUE(out.str().ends_with("\r\033[Ka negative pivot\n"));
}

TEST(ProgressMonitor, SilentPrintsNothing) {
  std::ostringstream out;
  {
    ProgressMonitor monitor(out, ProgressStyle::silent);
    monitor.accepted(at(1, 0.1), {});
    monitor.note("x");
  }
  EXPECT_TRUE(out.str().empty());
}

TEST(ProgressMonitor, SignalsAskForAStop) {
  std::ostringstream out;
  for (const int signal : {SIGINT, SIGTERM}) {
    ProgressMonitor monitor(out, ProgressStyle::silent);
    EXPECT_FALSE(monitor.stop_requested());
    std::raise(signal);
    EXPECT_TRUE(monitor.stop_requested());
  }
}

}  // namespace
}  // namespace halftool::io
