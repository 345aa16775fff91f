#include <fmt/format.h>

#include <cmath>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"
#include "tests/verification/clamped_plate.hpp"

namespace halftool::verification {
namespace {

constexpr int kJudged = 32;
constexpr double kSlope = 0.0005;  // h/a: slopes stay small at these loads
const std::vector<double> kLoads{1e3, 1e4, 1e5, 1e6};

void add_rows(const test::PressedPlate& plate, int rings, unsigned seed, std::vector<Row>& coarser,
              Report& report) {
  const double root = std::cbrt(plate.load);
  const std::string mesh = mesh_words(fmt::format("{} rings", rings), seed);
  const std::string at = fmt::format(", P = {:g}", plate.load);
  std::vector<Row> rows{
      compare("deflection over a (q a / E h)^(1/3)" + at, mesh, plate.deflection / root,
              test::kMembraneDeflection),
      compare("stress at the centre over (E q^2 a^2 / h^2)^(1/3)" + at, mesh,
              plate.centre_stress / (root * root), test::kMembraneCentre),
      compare("radial stress beside the edge over the same" + at, mesh, plate.edge_stress / (root * root),
              test::membrane_radial_stress(plate.edge_place))};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i < coarser.size()) rows[i].rate = observed_rate(coarser[i].error, rows[i].error);
    if (rings >= kJudged) rows[i].allowed = 0.01;
    report.rows.push_back(rows[i]);
  }
  coarser = rows;
}

Report run() {
  Report report;
  for (const unsigned seed : {0U, 1U, 2U}) {
    std::vector<Row> coarser;
    for (const int rings : {16, 32, 64})
      add_rows(test::press_plate(kLoads, rings, seed, kSlope).back(), rings, seed, coarser, report);
  }
  return report;
}

}  // namespace

Problem membrane_limit() {
  return {"membrane-limit",
          "Membrane under fluid pressure, the plate's limit",
          "Fluid pressure",
          "Hencky 1915, Fichter 1997 (0.653, from memory); constants by our own calculation",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
