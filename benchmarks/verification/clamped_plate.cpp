#include "tests/verification/clamped_plate.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>

#include "benchmarks/verification/problems.hpp"
#include "benchmarks/verification/refinement.hpp"
#include "tests/support/von_karman_plate.hpp"

namespace halftool::verification {
namespace {

constexpr double kAllowed = 0.01;
constexpr int kJudged = 32;  // rings from which the allowed error counts
const std::vector<double> kCurve{1, 2, 5, 10, 20, 40, 60, 100};
const std::vector<double> kBeyond{1000, 1e4};
constexpr double kCurveSlope = 0.004;  // h/a

struct Quantity {
  std::string name;
  std::string if_missed;  ///< remark
  double (*ours)(const test::PressedPlate&);
  double (*reference)(const test::PressedPlate&, const test::VonKarmanPlate&);
};

const std::vector<Quantity> kQuantities{
    {"deflection of the centre over h", "mesh, see below",
     [](const test::PressedPlate& p) { return p.deflection; },
     [](const test::PressedPlate&, const test::VonKarmanPlate& v) { return v.deflection; }},
    {"membrane stress at the centre", "mesh: quadratic, see the next finer",
     [](const test::PressedPlate& p) { return p.centre_stress; },
     [](const test::PressedPlate&, const test::VonKarmanPlate& v) { return v.radial(0); }},
    {"radial membrane stress along the edge", "triangles that stand on the edge, see below",
     [](const test::PressedPlate& p) { return p.edge_stress; },
     [](const test::PressedPlate& p, const test::VonKarmanPlate& v) { return v.radial_at(p.edge_place); }}};

const test::VonKarmanPlate& exact(double load) {
  static std::map<double, test::VonKarmanPlate> known;
  const auto [at, is_new] = known.try_emplace(load);
  if (is_new) at->second = test::von_karman_plate(load, test::kPlatePoisson);
  return at->second;
}

Row row_of(const Quantity& quantity, const test::PressedPlate& plate, const std::string& loads, int rings,
           unsigned seed) {
  Row row = compare(quantity.name + ", " + loads, mesh_words(fmt::format("{} rings", rings), seed),
                    quantity.ours(plate), quantity.reference(plate, exact(plate.load)));
  if (rings >= kJudged) row.allowed = kAllowed;
  if (!row.holds()) row.remark = quantity.if_missed;
  return row;
}

// The worst point of the curve, then the two loads beyond it.
std::vector<Row> rows_of(const Quantity& quantity, const std::vector<test::PressedPlate>& plates, int rings,
                         unsigned seed) {
  std::vector<Row> rows;
  for (const test::PressedPlate& plate : plates) {
    const bool beyond = plate.load > kCurve.back();
    Row row =
        row_of(quantity, plate, beyond ? fmt::format("P = {:g}", plate.load) : "worst of 8 loads to P = 100",
               rings, seed);
    if (beyond || rows.empty())
      rows.push_back(row);
    else if (std::abs(row.error) > std::abs(rows.front().error))
      rows.front() = row;
  }
  return rows;
}

void add_line(const std::vector<test::PressedPlate>& plates, const std::string& label, Report& report) {
  Series line{label, {{0, 0}}, false};
  for (const test::PressedPlate& plate : plates)
    if (plate.load <= kCurve.back()) line.points.emplace_back(plate.deflection, plate.load);
  report.charts.front().series.push_back(line);
}

Chart empty_chart() {
  Series reference{"von Karman", {}, true};
  for (const double load : kCurve) reference.points.emplace_back(exact(load).deflection, load);
  return {"clamped_plate",
          "Clamped circular plate under fluid pressure",
          "deflection of the centre over the thickness",
          "load q a^4 / (E h^4)",
          {reference}};
}

// In two runs, for the balance is asked for relative to the last load. The rounding of internal forces over
// the load goes as (a/h)^3 / P: at P = 1 and h/a = 0.002 it reaches the tolerance with 64 rings, at 0.004 it
// is far below.
std::vector<test::PressedPlate> press(int rings, unsigned seed) {
  std::vector<test::PressedPlate> plates = test::press_plate(kCurve, rings, seed, kCurveSlope);
  for (const test::PressedPlate& plate : test::press_plate(kBeyond, rings, seed)) plates.push_back(plate);
  return plates;
}

Report run() {
  Report report;
  report.charts.push_back(empty_chart());
  for (const unsigned seed : {0U, 1U, 2U}) {
    std::map<std::string, double> coarser;
    for (const int rings : {16, 32, 64}) {
      const std::vector<test::PressedPlate> plates = press(rings, seed);
      for (const Quantity& quantity : kQuantities)
        for (Row& row : rows_of(quantity, plates, rings, seed)) {
          row.rate = observed_rate(coarser[row.quantity], row.error);
          coarser[row.quantity] = row.error;
          report.rows.push_back(row);
        }
      if (seed == 1 && rings != 32)
        add_line(plates, mesh_words(fmt::format("{} rings", rings), seed), report);
    }
  }
  report.discussion =
      "Deflection at P = 1e4 with 32 rings: 0.7 to 1.0 % above von Karman. Of that 0.07 % is the theory's, "
      "which takes slopes "
      "as small: on one mesh at one P our distance from it grows with (h/a)^2, 0.94, 0.99, 1.21 and 2.10 % "
      "at h/a = 0.001, "
      "0.002, 0.004 and 0.008 (seed 2; the same steps on every mesh). What an increment holds fixed, and the "
      "path of loads, "
      "make less than 0.001 %. The rest is the mesh: the strip along the edge that bends is 0.025 a wide and "
      "an element a/32; "
      "with 64 rings it is half. The radial stress along the edge is read in the triangles that stand on it. "
      "At this load "
      "0.4 % of it is the slopes' again. On irregular triangles those on the edge read high: with 32 rings "
      "and seed 1 3.4 %, "
      "those with one corner on it 0.7 %, all of the strip 1.8 % by area (1.6, 0.9 and 1.3 % on the regular "
      "mesh).";
  return report;
}

}  // namespace

Problem clamped_plate() {
  return {"clamped-plate",
          "Clamped circular plate, large deflection",
          "Fluid pressure",
          "von Karman's equations by finite differences; Timoshenko and Woinowsky-Krieger; Way 1934",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
