// Bulge of a round sheet with a held rim under fluid pressure. Membrane equilibrium at the pole,
// sigma = p rho/(2 t), is the basis of the bulge test (ISO 16808:2014, clause from memory; Hill 1950,
// Phil. Mag. 41, 1133). Sheet: invented low-carbon steel, opening 200 thicknesses wide.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "tests/verification/bulge_dome.hpp"

namespace halftool::test {
namespace {

constexpr double kHighest = 3.4;  // [MPa], nine tenths of what the dome can bear (Hill 1950)

solver::SheetMaterial steel() {
  return {"", "", "", 207000, 0.3, solver::SwiftHardening{530, 0.0284, 0.26}};
}

Dome dome_at(double pressure, double edge_length = 3) {
  BulgeSetup setup;
  setup.material = steel();
  setup.pressure = pressure;
  setup.edge_length = edge_length;
  return bulge(setup);
}

void record(const std::string& what, double pressure, double value) {
  testing::Test::RecordProperty(what + "_at_" + std::to_string(pressure) + "_MPa", std::to_string(value));
}

/// Elastic change of volume at the pole, from its mean stress.
double dilatation(const Dome& dome) {
  const solver::SheetMaterial metal = steel();
  return (1 - 2 * metal.poissons_ratio) / metal.youngs_modulus *
         (dome.pole.stress.sum() + dome.pole.normal_stress);
}

TEST(Bulge, PoleIsInMembraneEquilibrium) {
  double last_height = 0;
  for (const double pressure : {0.8, 1.6, 2.5, kHighest}) {
    const Dome dome = dome_at(pressure);
    const double membrane = pressure * dome.pole.radius.mean() / (2 * dome.pole.thickness);
    EXPECT_NEAR(dome.pole.stress.mean() / membrane, 1, 0.01) << pressure;
    // The fluid presses on the smaller inner sphere: p (rho - t/2)^2 = 2 rho t sigma, mean over the
    // thickness.
    const double inside = dome.pole.radius.mean() - 0.5 * dome.pole.thickness;
    const double sphere = pressure * inside * inside / (2 * dome.pole.radius.mean() * dome.pole.thickness);
    EXPECT_NEAR(dome.pole.stress_mean.mean() / sphere, 1, 0.01) << pressure;
    EXPECT_LT(dome.pole.stress_spread, 0.01) << pressure;  // alike in all directions
    EXPECT_GT(dome.height, last_height);
    EXPECT_TRUE(dome.notes.empty()) << dome.notes.front();
    last_height = dome.height;
    record("percent_off_membrane", pressure, 100 * (dome.pole.stress.mean() / membrane - 1));
    record("percent_off_sphere", pressure, 100 * (dome.pole.stress_mean.mean() / sphere - 1));
    record("height_over_opening_radius", pressure, dome.height / BulgeSetup{}.opening_radius);
    record("thickness_strain", pressure, dome.pole.thickness_strain);
  }
  EXPECT_GT(last_height, 0.4 * BulgeSetup{}.opening_radius);  // well into large bulge
}

TEST(Bulge, FinerMeshHoldsEquilibriumToo) {
  const Dome dome = dome_at(kHighest, 2.5);
  const double membrane = kHighest * dome.pole.radius.mean() / (2 * dome.pole.thickness);
  EXPECT_NEAR(dome.pole.stress.mean() / membrane, 1, 0.01);
  EXPECT_NEAR(dome.height / dome_at(kHighest).height, 1, 0.002);
  record("percent_off_membrane_finer", kHighest, 100 * (dome.pole.stress.mean() / membrane - 1));
}

// Plastic flow keeps the volume, so what the surface gains the thickness loses but for the elastic part. Once
// from the strains and once from nothing but the areas of the triangles.
TEST(Bulge, PoleKeepsItsVolume) {
  for (const double pressure : {0.8, kHighest}) {
    const Dome dome = dome_at(pressure);
    EXPECT_NEAR(dome.pole.thickness_strain + dome.pole.strain.sum(), dilatation(dome), 2e-4) << pressure;
    EXPECT_NEAR(dome.pole.thickness_strain + dome.pole.area_strain, dilatation(dome), 2e-4) << pressure;
    EXPECT_NEAR(dome.pole.thickness, BulgeSetup{}.thickness * std::exp(dome.pole.thickness_strain), 1e-5)
        << pressure;
    record("volume_left_over", pressure,
           dome.pole.thickness_strain + dome.pole.area_strain - dilatation(dome));
  }
}

TEST(Bulge, DieAndRimCarryTheFluid) {
  const solver::RunRecord run = dome_at(kHighest).record;
  EXPECT_LT(run.pressure_force_z, -1000);  // [N]
  EXPECT_NEAR(run.tool_force_z + run.held_force_z, -run.pressure_force_z,
              1e-3 * std::abs(run.pressure_force_z));
}

}  // namespace
}  // namespace halftool::test
