// Strip wrapped over a cylinder and released, against the fibre-by-fibre elastic-plastic bend
// (tests/support/fibre_bending; textbook theory: Hill 1950, Marciniak, Duncan and Hu 2002, ch. 6). Sheet:
// aluminium of the 2-D draw bend benchmark, NUMISHEET 1993 (constants from memory), 0.81 mm.
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "tests/support/fibre_bending.hpp"
#include "tests/verification/wrap_strip.hpp"

namespace halftool::test {
namespace {

constexpr double kThickness = 0.81;

solver::SheetMaterial aluminium() {
  return {"", "", "", 71000, 0.33, solver::SwiftHardening{576.79, 0.01658, 0.3593}};
}

FibreBend fibre_bend(double ratio) {
  return {aluminium(), kThickness, ratio * kThickness};
}

WrapSetup strip(double ratio, double elements_per_bend, double pressure) {
  return {aluminium(), kThickness, ratio, pressure, elements_per_bend};
}

/// The pressure that leaves a tail of two radii: M = p l^2/2.
double gentle_pressure(double ratio, double moment) {
  const double tail = 2 * ratio * kThickness;
  return 2 * moment / (tail * tail);
}

void record(const std::string& what, double value) {
  testing::Test::RecordProperty(what, std::to_string(value));
}

double percent_off(double value, double reference) {
  return 100 * (value / reference - 1);
}

// Sheet metal theory bends without a line load. Here the line of lift-off travels over the sheet and leaves
// it unloaded a little: on a tool of contact stiffness k it acts over lambda = (4 D/k)^(1/4) with D = E'
// t^3/12, about one thickness at the default stiffness, and takes a share of the order of lambda/l of the
// moment, l = 2 R being the tail. Hence less the gentler the bend: 2 percent hold from R/t = 10 on.
TEST(Wrap, SpringbackIsThatOfTheFibreBend) {
  for (const double ratio : {10.0, 20.0, 50.0}) {
    const FibreBendResult reference = bend_and_release(fibre_bend(ratio));
    const double pressure = gentle_pressure(ratio, reference.moment);
    std::vector<double> off;
    for (const double elements : {24.0, 48.0}) {
      const WrapResult wrap = wrap_and_release(strip(ratio, elements, pressure));
      EXPECT_NEAR(wrap.curvature / reference.turn, 1, 0.01) << ratio;  // the sheet lies on the tool
      EXPECT_NEAR(wrap.springback / reference.springback, 1, 0.02) << ratio << ' ' << elements;
      EXPECT_TRUE(wrap.notes.empty()) << wrap.notes.front();
      off.push_back(percent_off(wrap.springback, reference.springback));
      record("percent_off_ratio_" + std::to_string(static_cast<int>(ratio)) + "_elements_" +
                 std::to_string(static_cast<int>(elements)),
             off.back());
    }
    EXPECT_NEAR(off[0], off[1], 0.6) << ratio;  // the finer mesh says the same
  }
}

// The shortfall that the line of lift-off causes follows t/l: three percent at R/t = 5, most of it gone
// at 20.
TEST(Wrap, ShortfallFallsWithTheRadius) {
  std::vector<double> off;
  for (const double ratio : {5.0, 10.0, 20.0}) {
    const FibreBendResult reference = bend_and_release(fibre_bend(ratio));
    const WrapResult wrap = wrap_and_release(strip(ratio, 24, gentle_pressure(ratio, reference.moment)));
    off.push_back(percent_off(wrap.springback, reference.springback));
    record("percent_off_ratio_" + std::to_string(static_cast<int>(ratio)), off.back());
  }
  EXPECT_GT(off[0], -4);
  EXPECT_LT(off[0], off[1]);
  EXPECT_LT(off[1], off[2]);
  EXPECT_LT(off[2], 0);
}

// Without pressure on the cut edges the sheet has no tension: pressure p outside, p Ro/Ri inside, net force
// zero. It rises a hundredfold and more over the wrapped sheet and takes 40 percent of the springback.
TEST(Wrap, PressureOnTheFacesLowersSpringbackAsInTheFibres) {
  constexpr double kRatio = 10;
  double last = 1;
  for (const double pressure : {0.3, 1.0, 3.0, 10.0, 30.0, 100.0}) {
    FibreBend fibres = fibre_bend(kRatio);
    fibres.outer_pressure = pressure;
    fibres.inner_pressure = pressure * (kRatio + 0.5) / (kRatio - 0.5);
    fibres.pressure_after_bend = true;
    const double reference = bend_and_release(fibres).springback;
    // 100 MPa bend the sheet between its points of contact: a finer mesh there (+1.76 percent).
    WrapSetup setup = strip(kRatio, pressure < 100 ? 24 : 48, pressure);
    setup.edges_loaded = false;
    const double springback = wrap_and_release(setup).springback;
    EXPECT_NEAR(springback / reference, 1, 0.02) << pressure;
    EXPECT_LT(springback, last + 2e-4) << pressure;
    last = springback;
    record("percent_off_at_" + std::to_string(pressure) + "_MPa", percent_off(springback, reference));
    record("springback_at_" + std::to_string(pressure) + "_MPa", springback);
  }
  const double free = bend_and_release(fibre_bend(kRatio)).springback;
  EXPECT_LT(last, 0.65 * free);  // the effect under test is far above the tolerance
}

// With pressure on the cut edges too the sheet is under pressure from all sides, which moves neither yield
// nor moment: springback should not depend on it. Most of the drift belongs to the mesh (pressure bends the
// sheet between points of contact, p h^2) and falls with it: 8.2, 2.6, 1.8, 1.8 percent at 100 MPa with 12,
// 24, 48 and 68 elements. What is left then is not explained.
TEST(Wrap, PressureFromAllSidesLeavesSpringback) {
  constexpr double kRatio = 10;
  const auto drift_of = [&](double elements, double pressure, double gentle) {
    return percent_off(wrap_and_release(strip(kRatio, elements, pressure)).springback, gentle);
  };
  const auto gentle_of = [&](double elements) {
    return wrap_and_release(strip(kRatio, elements, 0.3)).springback;
  };
  std::vector<double> drift_at_peak{drift_of(12, 100, gentle_of(12))};
  for (const double elements : {24.0, 48.0}) {
    const double gentle = gentle_of(elements);
    for (const double pressure : {1.0, 3.0, 10.0, 30.0, 100.0}) {
      const double drift = drift_of(elements, pressure, gentle);
      record("percent_drift_at_" + std::to_string(pressure) + "_MPa_elements_" +
                 std::to_string(static_cast<int>(elements)),
             drift);
      EXPECT_LT(drift, 0.1) << pressure;
      EXPECT_GT(drift, pressure <= 10 ? -1 : -5) << pressure;
      if (pressure == 100) drift_at_peak.push_back(drift);
    }
  }
  EXPECT_GT(drift_at_peak[1], 0.5 * drift_at_peak[0]);
  EXPECT_GT(drift_at_peak[2], drift_at_peak[1]);
  EXPECT_GT(drift_at_peak[2], -2);
}

TEST(Wrap, ToolCarriesTheFluidAtTheEndOfTheDwell) {
  for (const bool edges_loaded : {true, false}) {
    WrapSetup setup = strip(10, 24, 100);
    setup.edges_loaded = edges_loaded;
    const solver::RunRecord run = wrap_and_release(setup).record;
    EXPECT_LT(run.pressure_force_z, -100);  // [N] the fluid presses down
    EXPECT_NEAR(run.tool_force_z + run.held_force_z, -run.pressure_force_z,
                1e-3 * std::abs(run.pressure_force_z));
    record(edges_loaded ? "imbalance_edges_loaded" : "imbalance_faces_only",
           (run.tool_force_z + run.held_force_z) / run.pressure_force_z + 1);
  }
}

}  // namespace
}  // namespace halftool::test
