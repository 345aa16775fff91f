// A fixed table of answers worked out by hand. Sheets: reference constants of cases, all graded there.
#include "solver/assessment/hand_formulas.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "solver/assessment/bend_limit.hpp"
#include "solver/assessment/bend_springback.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "solver/assessment/flange_estimate.hpp"
#include "solver/assessment/varied_sheet.hpp"
#include "solver/material/scaled_strength.hpp"
#include "solver/material/yld2000_fit.hpp"

namespace halftool::solver {
namespace {

constexpr double degree = std::numbers::pi / 180;
constexpr double infinite = std::numeric_limits<double>::infinity();

/// Swift's law through a first yield.
SheetMaterial sheet(double modulus, double ratio, double strength, double exponent, double yield) {
  SheetMaterial material;
  material.name = "sheet";
  material.youngs_modulus = modulus;
  material.poissons_ratio = ratio;
  material.hardening = SwiftHardening{strength, std::pow(yield / strength, 1 / exponent), exponent};
  return material;
}
SheetMaterial soft_6061() {
  return sheet(69e3, .33, 205, .20, 55);
}
SheetMaterial low_carbon() {
  return sheet(207e3, .30, 530, .26, 210);
}
SheetMaterial dp780() {
  return sheet(207e3, .30, 1217, .13, 500);
}
SheetMaterial hard_2024() {
  return sheet(73e3, .33, 780, .17, 345);
}

TEST(HandFormulas, RadiusThatAHundredMegapascalFills) {
  const auto least = [](const SheetMaterial& material, double t, double corner) {
    const double sigma = worked_stress({material, t, 100});
    return fill_pressure(sigma, t, 1, corner) / 100;
  };
  EXPECT_NEAR(least(soft_6061(), 1.6, infinite), 2.4, 0.05);
  EXPECT_NEAR(least(low_carbon(), 1.0, infinite), 3.6, 0.06);
  EXPECT_NEAR(least(dp780(), 1.2, infinite), 12.5, 0.1);
  EXPECT_NEAR(least(dp780(), 1.2, 1), 21.7, 0.15);  // where three faces meet: 2 sigma t/p
}

TEST(HandFormulas, LengthThatFrictionLocks) {
  EXPECT_NEAR(locking_length(worked_stress({soft_6061(), 1.6, 100}), 1.6, 0.1, 100), 24, 0.1);
  EXPECT_NEAR(locking_length(worked_stress({dp780(), 1.2, 100}), 1.2, 0.1, 100), 125, 1);
  EXPECT_NEAR(locking_length(worked_stress({soft_6061(), 1.6, 10}), 1.6, 0.1, 10), 240, 1);
  EXPECT_EQ(locking_length(130, 1.6, 0, 100), infinite);
}

TEST(HandFormulas, FoldOfATwentyMillimetreFlange) {
  EXPECT_NEAR(fold_pressure(55, 1.6, 20), 0.203, 0.001);
  EXPECT_NEAR(proof_stress({soft_6061(), 1.6, 100}), 205 * std::pow(std::pow(55.0 / 205, 5) + 0.002, 0.2),
              1e-9);
  // h/t = sqrt(S/2p) of the shortest flange that 100 MPa turns, sigma 150: 0.93
  EXPECT_NEAR(fold_pressure(150, 1, std::sqrt(plane_strain_yield(150) / 200)), 100, 1e-9);
}

// A disc that is supported in its centre alone, and a hole that is closed but for a point: the length is the
// radius.
TEST(HandFormulas, FoldRoundADiscAndAHole) {
  const double straight = fold_pressure(100, 1, 10);
  EXPECT_NEAR(fold_pressure(100, 1, 10, 1e-9), straight, 1e-6 * straight);
  EXPECT_NEAR(fold_pressure(100, 1, 10, 0.1), straight * 2 / (5.0 / 3), 1e-12);
  EXPECT_NEAR(fold_pressure(100, 1, 10, -0.1), straight * 2 / (1.0 / 3), 1e-12);
}

TEST(HandFormulas, HolesThatMarkInThicknesses) {
  EXPECT_NEAR(sinking_diameter(55, 1, 100), 2.5, 0.02);
  EXPECT_NEAR(sinking_diameter(500, 1, 100), 7.5, 0.01);
  EXPECT_NEAR(sinking_width(55, 1, 100), 2 * std::sqrt(0.6351), 1e-3);
}

TEST(HandFormulas, WallsAndRings) {
  EXPECT_NEAR(least_wall_ratio(100, 200), 1.2, 0.03);
  EXPECT_NEAR(least_wall_ratio(100, 330), 0.95, 0.01);
  EXPECT_NEAR(least_wall_ratio(100, 40), 2.7, 0.04);
  EXPECT_NEAR(wall_root_stress(100, 10, 10), 300, 1e-9);
  EXPECT_NEAR(ring_hoop_stress(1, 1.5), 2.6, 1e-9);
  EXPECT_NEAR(ring_hoop_stress(1, 2), 1.67, 0.004);
}

TEST(HandFormulas, EdgeOfCurvedFlanges) {
  const auto growth = [](double radius, bool inward, double height, double turn) {
    return std::expm1(flange_edge_strain({radius, inward, height, 0, turn}));
  };
  EXPECT_NEAR(growth(150, true, 18, 90 * degree), 0.136, 0.001);
  EXPECT_NEAR(growth(300, false, 18, 90 * degree), -0.057, 0.0005);
  EXPECT_NEAR(growth(30, true, 9, 45 * degree), 0.126, 0.001);
  EXPECT_NEAR(growth(30, true, 9, 60 * degree), 0.214, 0.001);
  EXPECT_NEAR(growth(30, true, 9, 90 * degree), 0.429, 0.001);
  // The hole of 48 mm in 1.27 mm sheet turned down into one of 60 mm over R 3.2: ln(29.365/24).
  EXPECT_NEAR(flange_edge_strain({33.2, true, 9.2, 3.2 + 0.635, 90 * degree}), std::log(29.365 / 24), 1e-12);
  EXPECT_TRUE(std::isnan(flange_edge_strain({10, true, 12, 1, 90 * degree})));
}

TEST(HandFormulas, ShrinkFlangeWavesElastically) {
  EXPECT_NEAR(edge_waving_strain(0.33, 1.27, 18), 0.002, 0.0001);
}

TEST(HandFormulas, RadiusOfAFibreStrainIsTheInverseOfTheBendLimit) {
  for (const double radius : {0.5, 3.0, 12.0})
    EXPECT_NEAR(radius_of_fibre_strain(bend_limit_strain(radius / 1.6), 1.6), radius, 1e-9);
  EXPECT_EQ(radius_of_fibre_strain(2, 1), 0);
}

struct SpringbackRow {
  const char* name;
  SheetMaterial material;
  double thickness;
  std::array<double, 4> opens;  ///< of 90 degrees at R_mid/t = 3, 5, 10, 20 [deg], linear strain
};

TEST(BendSpringback, TableOfNinetyDegreeBends) {
  const std::vector<SpringbackRow> rows = {{"6061-O", soft_6061(), 1.6, {1.62, 2.43, 4.23, 7.37}},
                                           {"low carbon", low_carbon(), 1.0, {1.33, 2.00, 3.56, 6.52}},
                                           {"DP780", dp780(), 1.2, {3.77, 5.87, 10.65, 19.20}},
                                           {"2024-T3", hard_2024(), 1.6, {6.20, 9.49, 16.92, 30.23}}};
  constexpr std::array<double, 4> ratios = {3, 5, 10, 20};
  for (const SpringbackRow& row : rows)
    for (std::size_t i = 0; i < ratios.size(); ++i) {
      const auto springback = bend_springback(row.material, row.thickness, ratios[i] * row.thickness);
      ASSERT_TRUE(springback);
      // Logarithmic strain for the table's linear one adds up to 0.7 % at R/t 3.
      EXPECT_NEAR(90 * springback->share / row.opens[i], 1, 0.01) << row.name << " R/t " << ratios[i];
    }
}

TEST(BendSpringback, BandFollowsTheStrength) {
  const auto springback = bend_springback(hard_2024(), 1.6, 6.4 + 0.8);
  ASSERT_TRUE(springback);
  EXPECT_NEAR(90 * springback->share, 8.6, 0.15);
  EXPECT_NEAR(90 * springback->low, 8.0, 0.15);
  EXPECT_NEAR(90 * springback->high, 9.4, 0.2);
}

TEST(WithStrength, ScalesEveryLaw) {
  const std::vector<Hardening> laws = {SwiftHardening{200, 0.01, 0.2},
                                       VoceHardening{100, 200, 10},
                                       HollomonHardening{500, 0.2, 150},
                                       LudwikHardening{100, 300, 0.4},
                                       SwiftVoceHardening{0.5, {200, 0.01, 0.2}, {100, 200, 10}},
                                       TableHardening{{{{0, 100}, {0.1, 150}, {0.3, 180}}}}};
  for (const Hardening& law : laws) {
    SheetMaterial material;
    material.hardening = law;
    const Hardening scaled = with_strength(material, 1.2).hardening;
    for (const double strain : {0.0, 0.02, 0.2})
      EXPECT_NEAR(flow_stress(scaled, strain).stress, 1.2 * flow_stress(law, strain).stress, 0.5)
          << law.index() << " at " << strain;
  }
}

TEST(WithExponent, KeepsTheFlowStressAtATenth) {
  const std::vector<Hardening> laws = {SwiftHardening{200, 0.01, 0.2}, LudwikHardening{100, 300, 0.4},
                                       SwiftVoceHardening{0.5, {200, 0.01, 0.2}, {100, 200, 10}},
                                       HollomonHardening{500, 0.2, 150}};
  for (const Hardening& law : laws) {
    SheetMaterial material;
    material.hardening = law;
    const auto varied = with_exponent(material, 1.1);
    ASSERT_TRUE(varied);
    const auto ratio = [&](double strain) {
      return flow_stress(varied->hardening, strain).stress / flow_stress(law, strain).stress;
    };
    // Where the law goes through a first yield its start moves: Hollomon (0.1033/0.1024)^0.22 by hand.
    EXPECT_NEAR(ratio(0.1), law.index() == 2 ? std::pow(0.10337 / 0.10243, 0.22) : 1, 1e-4) << law.index();
    EXPECT_LT(ratio(0.02), 1) << law.index();
    EXPECT_GT(ratio(0.4), 1) << law.index();
  }
  SheetMaterial surfaces;
  surfaces.hardening = YoshidaUemoriHardening{120, 170, 60, 190, 12, 300, 0.5};
  EXPECT_FALSE(with_exponent(surfaces, 1.1));
  SheetMaterial steep;
  steep.hardening = SwiftHardening{200, 0.01, 0.95};
  EXPECT_FALSE(with_exponent(steep, 1.1));
}

// Voce 100 + 100 (1 - exp(-10 e)): 163.21 MPa and a slope of 367.9 at 0.1, an exponent of 0.2254 there.
TEST(WithExponent, OfACurveWithoutOneTakesTheExponentAtAStrain) {
  const VoceHardening voce{100, 200, 10};
  TableHardening table;
  for (int i = 0; i <= 40; ++i) table.points.push_back({0.01 * i, flow_stress(voce, 0.01 * i).stress});
  for (const Hardening& law : {Hardening(voce), Hardening(table)}) {
    SheetMaterial sheet;
    sheet.hardening = law;
    const auto varied = with_exponent(sheet, 1.2);
    ASSERT_TRUE(varied) << law.index();
    EXPECT_NEAR(flow_stress(varied->hardening, 0.1).stress, 163.21, 0.01) << law.index();
    const auto exponent = [](const Hardening& of) {
      const double slope = (flow_stress(of, 0.11).stress - flow_stress(of, 0.10).stress) / 0.01;
      return 0.1 * slope / flow_stress(of, 0.1).stress;
    };
    EXPECT_NEAR(exponent(varied->hardening) / exponent(law), 1.2, 1e-9) << law.index();
  }
  SheetMaterial steep;
  steep.hardening = VoceHardening{10, 400, 10};
  EXPECT_FALSE(with_exponent(steep, 1.3));  // the first yield would be below 0
}

TEST(WithStrength, ScalesWhatMovesTheYieldSurface) {
  SheetMaterial terms = soft_6061();
  terms.backstress = {{1000, 10}, {200, 0}};
  SheetMaterial surfaces = soft_6061();
  surfaces.hardening = YoshidaUemoriHardening{120, 170, 60, 190, 12, 300, 0.5};
  for (const SheetMaterial& sheet : {terms, surfaces})
    for (const double strain : {0.0, 0.02, 0.2}) {
      const auto stress = [&](const SheetMaterial& of) {
        return flow_stress(tension_curve(of), strain).stress;
      };
      EXPECT_NEAR(stress(with_strength(sheet, 1.2)) / stress(sheet), 1.2, 1e-3) << strain;
    }
}

mesh::ToolBend bend_at(double x, double plan_curvature) {
  mesh::ToolBend bend;
  bend.radius = 3.2;
  bend.turn = 90 * degree;
  bend.length = 40;
  bend.plan_curvature = plan_curvature;
  bend.overhang = bend.longest_overhang = 15;
  bend.outward = {x > 0 ? 1 : -1, 0};
  bend.line = {{x, 0}};
  return bend;
}

TEST(FlangeEstimate, NamesAndNearest) {
  const auto flanges =
      estimate_flanges({bend_at(30, 0), bend_at(-30, 0), bend_at(60, 0.01)}, {soft_6061(), 1.6, 100});
  ASSERT_EQ(flanges.size(), 3U);
  EXPECT_EQ(flanges[0].name, "bend at +x (1)");
  EXPECT_EQ(flanges[1].name, "bend at -x");
  EXPECT_EQ(nearest_flange(flanges, {-20, 0}), &flanges[1]);
  EXPECT_EQ(nearest_flange(flanges, {55, 3}), &flanges[2]);
  EXPECT_EQ(nearest_flange({}, {0, 0}), nullptr);
  EXPECT_TRUE(std::isnan(flanges[0].edge_strain));
  EXPECT_LT(flanges[2].edge_strain, 0);
  EXPECT_LT(flanges[2].edge_thinning, 0);
}

// Of two sheets with the same r-values, whatever condition they are written in: the strain along the edge is
// shared between width and thickness as r says.
TEST(FlangeEstimate, EdgesThinByTheRValuesOfEveryYieldCondition) {
  SheetMaterial by_r = soft_6061(), by_coefficients = soft_6061();
  const Yld2000 yield{8, {0.919, 1.072, 1.204, 1.109, 0.992, 0.892, 0.957, 1.098}};
  by_coefficients.yield = yield;
  constexpr double degree_45 = 45 * degree;
  by_r.yield = RValues{tension_test(yield, 0).r_value, tension_test(yield, degree_45).r_value,
                       tension_test(yield, 2 * degree_45).r_value};
  const auto thinning = [](const SheetMaterial& sheet) {
    return estimate_flanges({bend_at(30, -0.02)}, {sheet, 1.6, 100}).front().edge_thinning;
  };
  EXPECT_NEAR(thinning(by_coefficients), thinning(by_r), 1e-12);
  EXPECT_GT(std::abs(thinning(by_r) / thinning(soft_6061()) - 1), 0.05);
}

double input(const Estimate& line, const std::string& name) {
  for (const Figure& figure : line.inputs)
    if (figure.name == name) return figure.value;
  ADD_FAILURE() << "no input " << name << " of " << line.value.name;
  return 0;
}

// With what is printed beside it, each value can be redone by hand.
TEST(FlangeLines, CanBeRedoneFromTheirInputs) {
  const ScreenLoad load{soft_6061(), 1.6, 100};
  for (const double plan_curvature : {-0.02, 0.02}) {
    const auto lines =
        flange_lines(estimate_flanges({bend_at(30, plan_curvature)}, load), load, {}).estimates;
    const Estimate& opens = lines[1];
    const double nu = input(opens, "nu"), E = 1000 * input(opens, "E"), t = input(opens, "t");
    const double elastic = 12 * input(opens, "M") * (1 - nu * nu) / (E * t * t * t * input(opens, "k"));
    // The section thins and its middle stretches as it is bent: small strain is near it at R/t 2.
    EXPECT_NEAR(opens.value.value / (input(opens, "turn") * elastic), 1, 0.03);
    const Estimate& edge = lines[3];
    const double side = plan_curvature < 0 ? -1 : 1, turn = input(edge, "turn") * degree;
    const double middle = input(edge, "R") + input(edge, "t") / 2;
    const double leg = input(edge, "Lmax") - middle * turn;
    EXPECT_NEAR(input(edge, "h"), leg, 1e-12);
    EXPECT_NEAR(input(edge, "Rb"), input(edge, "Ra") + side * input(edge, "Lmax"), 1e-12);
    EXPECT_NEAR(input(edge, "Rf"),
                input(edge, "Ra") + side * (middle * std::sin(turn) + leg * std::cos(turn)), 1e-12);
    EXPECT_NEAR(edge.value.value, std::log(input(edge, "Rf") / input(edge, "Rb")), 1e-12);
    if (side < 0) continue;
    const Estimate& waves = lines[4];
    EXPECT_NEAR(waves.value.value,
                -edge_waving_strain(input(waves, "nu"), input(waves, "t"), input(waves, "Lmax")), 1e-12);
  }
}

TEST(FlangeLines, SayWhatIsNotThereAndJudgeOnlyAgainstStatedLimits) {
  const ScreenLoad load{soft_6061(), 1.6, 100};
  EXPECT_EQ(flange_lines({}, load, {}).not_found.size(), 1U);
  mesh::ToolBend lip = bend_at(30, -0.02);
  const auto stretched = estimate_flanges({lip}, load);
  const auto free = flange_lines(stretched, load, {});
  for (const Estimate& line : free.estimates) EXPECT_FALSE(line.passed) << line.value.name;
  ASSERT_EQ(free.estimates.size(), 4U);
  const auto judged = flange_lines(stretched, load, {0.05, 0.10});
  EXPECT_TRUE(judged.estimates[2].passed);  // fibre: 0.182 beside 0.10
  EXPECT_TRUE(judged.estimates[3].passed);  // edge
  lip.overhang = lip.longest_overhang = std::numeric_limits<double>::quiet_NaN();
  const auto spanned = flange_lines(estimate_flanges({lip}, load), load, {});
  EXPECT_EQ(spanned.estimates.size(), 2U);
  EXPECT_EQ(spanned.not_found.size(), 1U);
}

}  // namespace
}  // namespace halftool::solver
