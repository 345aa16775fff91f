#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "benchmarks/verification/problems.hpp"
#include "tests/verification/flange_strip.hpp"

namespace halftool::verification {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

const char* const kFlangeDiscussion =
    "The strip lies between planes of symmetry, in plane strain as the pure bend is; narrow strips with "
    "free sides are another problem (flange-width). Converged: mesh, increments and penetration halved "
    "or points through the thickness doubled move no row at 100 MPa by more than 0.05 deg (23 points, "
    "penetration a seventh, increments a quarter and tolerance half of the program's own). No run used "
    "regularisation. The program's own mesh and settings read 0.24 deg less to 0.15 more. Irregular "
    "meshes have the same limit: with these settings they read 0.13 to 0.20 deg high with 20 elements "
    "over the bend, within 0.01 with 40; regular cells, 20 over the bend, read 0.12 high (15 points, "
    "increments halved, penetration a fifth). Contact alone does not converge for ever: made five times "
    "stiffer than here, where it is some 120 times as stiff as the sheet itself through half its "
    "thickness, it moves 2024-T3, R/t 4.25, by +0.05 and 6061-O, R/t 10.50, by -0.13 deg (from 4/3 of "
    "this penetration: -0.12, without friction -0.04; increments four times shorter give back 0.03). "
    "What makes the difference from the pure bend: (1) Tension over the nose. The fluid pushes on the "
    "cut edge, but friction on the flange keeps part of that push from the bend, which is pulled by as "
    "much beside the all-round pressure (6061-O, R/t 10.50: 131 N/mm arrive of 160). The inner fibres, "
    "compressed as they were bent, unload elastically under that tension T while the outer ones flow: "
    "about T t/4 of the moment is lost (73 N at 2 MPa, 62 N at 100; mean curvature 0.0596 per mm at "
    "both, the tool's 0.0595). Without friction 166 N/mm arrive, 72 N stay, and 3.77 deg spring back for "
    "3.21 (R/t 2.37: 1.76 for 1.52). So the bend opens by less the higher the pressure (6061-O, R/t "
    "2.37: 1.58 deg at 3 MPa, 1.43 at 10, 1.12 at 40, 0.80 at 100, 0.63 at 140; pure 1.35); there the "
    "mid-surface is 1.7 percent longer. (2) The ends. The web arches off the block before the bend (R/t "
    "10.50 at 2 MPa: 0.006 to 0.017 per mm over 8 mm) and the flange is bent while it folds; full "
    "pressure flattens both, and 3 mm beside the bend then carry 21 to 47 N the other way. The flange's "
    "curl and its flattening on the wall open it further in the soft sheet (0.72 of 1.52 deg, R/t 2.37) "
    "and close it in 2024-T3, whose flange the same pressure flattens less (-2.34 deg). The bend is "
    "counted to 1.5 thicknesses beyond its end. (3) Not the pressure through the thickness: all-round, "
    "it moves neither yield nor moment (normal-stress).";
const char* const kNormalStressDiscussion =
    "At 80 MPa, above the sheet's first yield: at 100 MPa without it the pressing finds no acceptable "
    "increment "
    "beyond 98 MPa. Without the normal stress the metal feels the pressure on the cut edges but not that on "
    "its "
    "faces: it is squeezed in its plane by 80 MPa, which shortens it (less axial strain) and takes up most "
    "of the "
    "bending moment. With it the pressure is all-round and moves neither yield nor moment.";

constexpr double kAllowed = 0.05;  // that a change of the method's numbers may move springback by [deg]

struct Sheet {
  std::string name;
  solver::SheetMaterial metal;
};

test::FlangeStrip setup_of(const Sheet& sheet, double radius, double pressure) {
  test::FlangeStrip setup;
  setup.material = sheet.metal;
  setup.edge_radius = radius;
  setup.pressure = pressure;
  return setup;
}

std::string name_of(const Sheet& sheet, const test::FlangeStrip& setup) {
  const double ratio = (setup.edge_radius + 0.5 * test::kFlangeThickness) / test::kFlangeThickness;
  return fmt::format("springback [deg], {}, R/t {:.2f}, {:g} MPa", sheet.name, ratio, setup.pressure);
}

std::string mesh_of(const test::FlangeStrip& setup) {
  if (setup.model == test::StripModel::crossed)
    return fmt::format("regular, {:g} cells over the bend", setup.elements_per_bend);
  return fmt::format("irregular, {:g} mm wide, {:g} elements over the bend asked", setup.width,
                     setup.elements_per_bend);
}

/// The runs of a report, and what regularisation did in all of them.
struct Runs {
  double regularisation = 0;  ///< [N mm]

  test::FlangeResult press(const test::FlangeStrip& setup) {
    const test::FlangeResult result = test::press_flange(setup);
    regularisation += result.regularisation_work;
    return result;
  }
  double springback(const test::FlangeStrip& setup) { return press(setup).springback / kDegree; }
};

std::string facts_of(const test::FlangeResult& pressed) {
  std::string text =
      fmt::format("axial strain in the bend {:.2f} %, opens in the bend {:.2f} deg, {} iterations",
                  100 * pressed.axial_strain, pressed.turn_bend / kDegree, pressed.iterations);
  if (!pressed.rests) text += ", the pressing has doubts";
  return text;
}

struct Change {
  std::string name;
  test::FlangeStrip setup;
  double moved = 0;  ///< springback [deg]
};

std::vector<Change> changes_of(const test::FlangeStrip& base) {
  std::vector<Change> changes{{"mesh", base}, {"points", base}, {"increments", base}, {"penetration", base}};
  changes[0].setup.elements_per_bend *= 2;
  changes[0].setup.coarsest = 0.5 * test::kFlangeThickness;
  changes[1].setup.settings.layers *= 2;
  changes[2].setup.settings.pressure_growth /= 2;
  changes[2].setup.settings.largest_motion /= 2;
  changes[3].setup.settings.penetration_share /= 2;
  return changes;
}

/// The change that moves springback most, against the converged value; its remark says what each does.
Row change_row(const std::string& name, const test::FlangeStrip& base, double value, Runs& runs) {
  std::vector<Change> changes = changes_of(base);
  std::string each;
  double squares = 0;
  for (Change& change : changes) {
    change.moved = runs.springback(change.setup) - value;
    squares += change.moved * change.moved;
    each += fmt::format("{}{} {:+.3f}", each.empty() ? "" : ", ", change.name, change.moved);
  }
  const Change& worst = *std::max_element(
      changes.begin(), changes.end(),
      [](const Change& a, const Change& b) { return std::abs(a.moved) < std::abs(b.moved); });
  Row row = compare(name + ", against converged", "the change that moves it most: " + worst.name,
                    value + worst.moved, value);
  row.allowed = kAllowed / value;
  row.remark = fmt::format("{} deg; root of the sum of squares {:.3f} deg", each, std::sqrt(squares));
  return row;
}

Row against_converged(const std::string& name, const test::FlangeStrip& setup, double converged,
                      const std::string& settings, Runs& runs) {
  const test::FlangeResult pressed = runs.press(setup);
  const double value = pressed.springback / kDegree;
  Row row = compare(name + ", " + settings + ", against converged", mesh_of(setup), value, converged);
  row.remark = fmt::format("{:+.2f} deg; {}", value - converged, facts_of(pressed));
  return row;
}

/// Converged against the pure bend; at 100 MPa how far it is converged, and what the program's defaults
/// leave.
double add_flange(const Sheet& sheet, double radius, double pressure, Report& report, Runs& runs) {
  const test::FlangeStrip defaults = setup_of(sheet, radius, pressure);
  const test::FlangeStrip fine = test::converged(defaults);
  const std::string name = name_of(sheet, fine);
  const test::FlangeResult pressed = runs.press(fine);
  const double value = pressed.springback / kDegree;
  Row row = compare(name, mesh_of(fine), value, test::pure_bend_springback(fine) / kDegree);
  row.remark = facts_of(pressed);
  report.rows.push_back(row);
  if (pressure == 100) {
    report.rows.push_back(change_row(name, fine, value, runs));
    report.rows.push_back(against_converged(name, defaults, value, "defaults", runs));
  }
  return value;
}

void add_sheet(const Sheet& sheet, Series& pure, Report& report, Runs& runs) {
  Series line{sheet.name, {}, false};
  for (const double radius : {3.0, 6.0, 16.0}) {
    const double ratio = radius / test::kFlangeThickness + 0.5;
    for (const double pressure : {40.0, 100.0, 140.0}) {
      const double value = add_flange(sheet, radius, pressure, report, runs);
      if (pressure == 100) line.points.emplace_back(ratio, value);
    }
    pure.points.emplace_back(ratio, test::pure_bend_springback(setup_of(sheet, radius, 100)) / kDegree);
  }
  report.charts.front().series.push_back(line);
}

/// Irregular meshes with the settings of the converged run scatter about it.
void add_irregular(const Sheet& sheet, Report& report, Runs& runs) {
  test::FlangeStrip setup = test::converged(setup_of(sheet, 16, 100));
  const double value = runs.springback(setup);
  setup.model = test::StripModel::irregular;
  for (const double elements : {20.0, 40.0})
    for (const double width : {8.0, 10.0, 13.0}) {
      setup.elements_per_bend = elements;
      setup.width = width;
      report.rows.push_back(against_converged(name_of(sheet, setup), setup, value, "its settings", runs));
    }
}

Report run_flange() {
  Report report;
  Runs runs;
  report.charts.push_back({"flange_springback",
                           "Wide flange of 20 mm, 1.6 mm sheet, 100 MPa",
                           "bend radius over thickness",
                           "springback [deg]",
                           {}});
  Series pure{"pure bend", {}, true};
  const Sheet strong{"2024-T3", test::sheet_2024_t3()};
  add_sheet({"6061-O", test::sheet_6061_o()}, pure, report, runs);
  add_sheet({"low-carbon steel", test::sheet_low_carbon()}, pure, report, runs);
  add_sheet(strong, pure, report, runs);
  report.charts.front().series.push_back(pure);
  add_irregular(strong, report, runs);
  Row row;
  row.quantity = "work of regularisation in all runs [N mm]";
  row.value = row.error = runs.regularisation;
  row.allowed = 0;
  report.rows.push_back(row);
  report.discussion = kFlangeDiscussion;
  return report;
}

Report run_normal_stress() {
  Report report;
  const Sheet sheet{"6061-O", test::sheet_6061_o()};
  for (const double elements : {10.0, 14.0}) {
    test::FlangeStrip with = setup_of(sheet, 3, 80);
    with.model = test::StripModel::free_sides;
    with.elements_per_bend = elements;
    test::FlangeStrip without = with;
    without.normal_stress = false;
    const test::FlangeResult a = test::press_flange(with), b = test::press_flange(without);
    const std::string mesh = fmt::format("{:g} elements over the bend", elements);
    report.rows.push_back(compare("springback with [deg], against without", mesh, a.springback / kDegree,
                                  b.springback / kDegree));
    report.rows.push_back(
        compare("largest thinning with [%], against without", mesh, 100 * a.thinning, 100 * b.thinning));
    report.rows.push_back(compare("axial strain in the bend with [%], against without", mesh,
                                  100 * a.axial_strain, 100 * b.axial_strain));
  }
  report.discussion = kNormalStressDiscussion;
  return report;
}

}  // namespace

Problem normal_stress() {
  return {"normal-stress",
          "Pressure through the thickness, on and off",
          "Through-thickness pressure",
          "our own run without it; straight flange, 6061-O, radius 3 mm, 80 MPa",
          Evidence::own_fine_mesh,
          run_normal_stress};
}

Problem flange_springback() {
  return {"flange-springback",
          "Springback of a pressed flange against the pure bend",
          "Flange",
          "fibre integral of the pure bend, 90 degrees of the same radius",
          Evidence::closed_form,
          run_flange};
}

}  // namespace halftool::verification
