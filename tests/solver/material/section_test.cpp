#include "solver/material/section.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <random>
#include <stdexcept>
#include <vector>

#include "solver/material/yld2000_fit.hpp"
#include "tests/support/finite_difference.hpp"
#include "tests/support/yld2000_sheets.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;
using Eigen::VectorXd;
using Vector6d = Eigen::Matrix<double, 6, 1>;
using States = std::vector<PointState>;

SheetMaterial steel() {
  return {"steel", "", "", 206000, 0.3, SwiftHardening{530, 0.005, 0.2}};
}
SheetMaterial aluminium() {
  return {"aluminium", "", "", 70000, 0.33, VoceHardening{140.2, 330.2, 12.4}};
}

SheetMaterial anisotropic_aluminium() {
  SheetMaterial material = aluminium();
  material.yield = RValues{0.8, 0.37, 0.54};
  return material;
}

/// AA6022-T4 under Yld2000-2d, hardening by Ludwik's law (invented).
SheetMaterial directional_aluminium() {
  SheetMaterial material = aluminium();
  material.hardening = LudwikHardening{140, 330, 0.45};
  material.yield = test::yld2000_sheets().at(1).yield;
  return material;
}

SectionFrozen frozen_sheet(double outer = 0, double inner = 0) {
  SectionFrozen frozen;
  frozen.initial_thickness = 1.0;
  frozen.thickness = 0.93;
  frozen.inverse_metric = {0.9, 1.05, 0.04};
  frozen.outer_pressure = outer;
  frozen.inner_pressure = inner;
  return frozen;
}

SectionStrain section_strain(const Vector6d& v) {
  return {v.head<3>(), v.tail<3>()};
}

SectionResponse respond(const Section& section, const Vector6d& at, const SectionFrozen& frozen,
                        const States& committed, States* trial = nullptr) {
  States scratch(committed.size());
  SectionResponse response;
  EXPECT_TRUE(section.respond(section_strain(at), frozen, committed.data(), scratch.data(), response));
  if (trial) *trial = scratch;
  return response;
}

void expect_tangent(const Section& section, const Vector6d& at, const SectionFrozen& frozen,
                    const States& committed, double step) {
  const SectionResponse response = respond(section, at, frozen, committed);
  const auto resultant = [&](const VectorXd& x) -> VectorXd {
    return respond(section, Vector6d(x), frozen, committed).resultant;
  };
  const auto difference = test::difference_jacobian(resultant, at, VectorXd::Constant(6, step));
  // Membrane, coupling and bending blocks differ in size by t and t^2: each is held to its own scale.
  const double membrane = difference.topLeftCorner<3, 3>().cwiseAbs().maxCoeff();
  const Eigen::Vector2d scale(membrane, membrane * frozen.thickness * frozen.thickness / 12);
  for (int row : {0, 1})
    for (int column : {0, 1}) {
      const Eigen::Matrix3d error = (response.tangent - difference).block<3, 3>(3 * row, 3 * column);
      EXPECT_LT(error.cwiseAbs().maxCoeff(), 1e-6 * std::sqrt(scale[row] * scale[column]))
          << "block " << row << ' ' << column;
    }
  EXPECT_LT((response.tangent - response.tangent.transpose()).cwiseAbs().maxCoeff(),
            1e-15 * response.tangent.cwiseAbs().maxCoeff());
}

TEST(Section, ElasticTangentMatchesFiniteDifference) {
  Vector6d at;
  at << 0.08, -0.05, 0.06, 0.12, -0.07, 0.05;
  for (int n : {1, 2, 5, 9, 25}) {
    SectionFrozen frozen = frozen_sheet(40, 90);
    frozen.elastic = true;
    expect_tangent(Section(steel(), n), at, frozen, States(n), 1e-4);
  }
}

TEST(Section, PlasticTangentMatchesFiniteDifferenceWithNormalStress) {
  std::mt19937 generator(11);
  std::uniform_real_distribution<double> uniform(-1, 1);
  const auto random = [&] {
    Vector6d v;
    for (double& x : v) x = uniform(generator);
    return v;
  };
  for (const SheetMaterial& material :
       {steel(), aluminium(), anisotropic_aluminium(), directional_aluminium()})
    for (int i = 0; i < 8; ++i) {
      const Section section(material, 9);
      const SectionFrozen frozen = frozen_sheet(i % 2 ? 100 : 0, i % 4 < 2 ? 0 : 60);
      States committed(9);
      const Vector6d first = 0.1 * random();
      respond(section, first, frozen, States(9), &committed);
      // Loading on, and a small step back that leaves some layers elastic.
      expect_tangent(section, first + 0.05 * random(), frozen, committed, 2e-7);
      expect_tangent(section, first + 0.001 * random(), frozen, committed, 2e-8);
    }
}

TEST(Section, TangentHoldsWhereTheEigenvaluesMeet) {
  const Section section(steel(), 7);
  Vector6d at = Vector6d::Zero();
  expect_tangent(section, at, frozen_sheet(), States(7), 1e-7);
  at << 0.03, 0.03, 0, 0, 0, 0;  // equibiaxial stretch, no bend
  expect_tangent(section, at, frozen_sheet(100, 0), States(7), 1e-6);
  at << 0.03, 0.03, 0, 0.1, 0.1, 0;  // spherical dome
  SectionFrozen frozen = frozen_sheet(100, 0);
  frozen.inverse_metric = {0.94, 0.94, 0};
  expect_tangent(section, at, frozen, States(7), 1e-6);
}

TEST(Section, SmallElasticStrainGivesTheThinPlate) {
  const double t = 0.8;
  const Section section(steel(), 3);
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = t;
  Vector6d at;
  at << 2e-9, -1e-9, 3e-9, 4e-9, 1e-9, -2e-9;
  const Vector6d r = respond(section, at, frozen, States(3)).resultant;
  const double c = 206000 / (1 - 0.09);
  Eigen::Matrix3d D;
  D << c, 0.3 * c, 0, 0.3 * c, c, 0, 0, 0, 0.35 * c;
  EXPECT_LT((r.head<3>() - t * D * at.head<3>()).norm(), 1e-7 * r.head<3>().norm());
  EXPECT_LT((r.tail<3>() - t * t * t / 12 * D * at.tail<3>()).norm(), 1e-7 * r.tail<3>().norm());
}

TEST(Section, PositiveCurvatureShortensThePadFace) {
  const Section section(steel(), 5);
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  SectionStrain strain;
  strain.curvature = {0.001, 0, 0};
  const States states(5);
  EXPECT_LT(section.sample(strain, frozen, states.data(), 0.5).strain[0], 0);
  EXPECT_GT(section.sample(strain, frozen, states.data(), -0.5).strain[0], 0);
}

TEST(Section, ResultantIsTheGradientOfTheStoredEnergyWhileElastic) {
  Vector6d at;
  at << 0.08, -0.05, 0.06, 0.12, -0.07, 0.05;
  const Section section(steel(), 9);
  SectionFrozen frozen = frozen_sheet();
  frozen.elastic = true;
  const auto energy = [&](const VectorXd& x) -> VectorXd {
    return VectorXd::Constant(1, respond(section, Vector6d(x), frozen, States(9)).elastic_energy);
  };
  const auto slope = test::difference_jacobian(energy, at, VectorXd::Constant(6, 1e-4));
  EXPECT_LT(test::relative_difference(slope.transpose(), respond(section, at, frozen, States(9)).resultant),
            1e-9);
}

TEST(Section, WorkOfTheResultantsIsStoredOrDissipated) {
  // Load, bend and unload in small steps; trapezoidal work, whose error falls with the square of the step
  // while the implicit stress update errs with the first power.
  const Section section(steel(), 9);
  const SectionFrozen frozen = frozen_sheet();
  Vector6d peak;
  peak << 0.06, -0.02, 0.03, 0.1, 0.02, -0.05;
  const auto imbalance = [&](int n_steps) {
    States committed(9);
    States trial(9);
    Vector6d previous_at = Vector6d::Zero();
    SectionResponse previous = respond(section, previous_at, frozen, committed);
    double work = 0;
    for (int step = 1; step <= n_steps; ++step) {
      const double s = 1.5 * step / n_steps;
      const Vector6d at = (s <= 1 ? s : 2 - s) * peak;
      const SectionResponse now = respond(section, at, frozen, committed, &trial);
      work += 0.5 * (now.resultant + previous.resultant).dot(at - previous_at);
      committed = trial;
      previous = now;
      previous_at = at;
    }
    EXPECT_GT(previous.plastic_work, 0.5 * work);
    return std::abs(work - previous.elastic_energy - previous.plastic_work) / work;
  };
  const double coarse = imbalance(300);
  const double fine = imbalance(3000);
  EXPECT_LT(fine, 1e-3);
  EXPECT_LT(fine, coarse / 5);
}

/// Tensor components after turning the material axes by an angle: [11, 22, 12] with the given factor on 12.
Vector3d turned(const Vector3d& v, double angle, double shear_factor) {
  const double c = std::cos(angle);
  const double d = std::sin(angle);
  const double shear = v[2] / shear_factor;
  return {c * c * v[0] + d * d * v[1] + 2 * c * d * shear, d * d * v[0] + c * c * v[1] - 2 * c * d * shear,
          shear_factor * (c * d * (v[1] - v[0]) + (c * c - d * d) * shear)};
}

TEST(Section, TurningTheMaterialAxesTurnsTheAnswer) {
  const Section section(steel(), 9);
  const SectionFrozen frozen = frozen_sheet(100, 30);
  Vector6d first;
  first << 0.06, -0.02, 0.03, 0.1, 0.02, -0.05;
  Vector6d second;
  second << 0.05, 0.03, -0.06, -0.04, 0.08, 0.02;
  for (double angle : {0.3, 1.1, 2.5}) {
    const auto turn6 = [&](const Vector6d& v, double shear_factor) {
      Vector6d out;
      out.head<3>() = turned(v.head<3>(), angle, shear_factor);
      out.tail<3>() = turned(v.tail<3>(), angle, shear_factor);
      return out;
    };
    SectionFrozen turned_frozen = frozen;
    turned_frozen.inverse_metric = turned(frozen.inverse_metric, angle, 1);
    States states(9);
    States turned_states(9);
    respond(section, first, frozen, States(9), &states);
    respond(section, turn6(first, 2), turned_frozen, States(9), &turned_states);
    const SectionResponse a = respond(section, second, frozen, states);
    const SectionResponse b = respond(section, turn6(second, 2), turned_frozen, turned_states);
    EXPECT_LT((b.resultant - turn6(a.resultant, 1)).norm(), 1e-12 * a.resultant.norm());
    EXPECT_NEAR(a.thickness_strain, b.thickness_strain, 1e-14);
  }
}

TEST(Section, ThicknessStrainOfAPlasticStretchKeepsTheVolume) {
  const Section section(steel(), 5);
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  Vector6d at = Vector6d::Zero();
  const double e1 = 0.2;
  const double e2 = 0.1;
  at[0] = 0.5 * (std::exp(2 * e1) - 1);
  at[1] = 0.5 * (std::exp(2 * e2) - 1);
  const SectionResponse r = respond(section, at, frozen, States(5));
  // Elastic volume change: (1 - 2 nu)(s11 + s22)/E, from the in-plane resultants (Kirchhoff = C11 S11 here).
  const double trace = r.resultant[0] * (1 + 2 * at[0]) + r.resultant[1] * (1 + 2 * at[1]);
  EXPECT_NEAR(r.thickness_strain, -0.3 + 0.4 * trace / 206000, 1e-12);
}

TEST(Section, FaceStressRespectsFlowStressAndNormalStress) {
  const Section section(steel(), 9);
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  frozen.outer_pressure = 100;
  frozen.inner_pressure = 40;
  Vector6d at = Vector6d::Zero();
  at[3] = -0.1;  // pad face stretched
  States states(9);
  respond(section, at, frozen, States(9), &states);
  const SectionPoint pad = section.sample(section_strain(at), frozen, states.data(), 0.5);
  const SectionPoint middle = section.sample(section_strain(at), frozen, states.data(), 0);
  const SectionPoint tool = section.sample(section_strain(at), frozen, states.data(), -0.5);
  EXPECT_DOUBLE_EQ(pad.normal_stress, -100);
  EXPECT_DOUBLE_EQ(middle.normal_stress, -70);
  EXPECT_DOUBLE_EQ(tool.normal_stress, -40);
  // a = 1: stretch 1 - z k. The inverse metric is the default identity.
  EXPECT_NEAR(pad.strain[0], std::log(1.05), 1e-14);
  EXPECT_NEAR(tool.strain[0], std::log(0.95), 1e-14);
  for (const SectionPoint& p : {pad, tool}) {
    const double flow = flow_stress(section.material().hardening, p.equivalent_plastic_strain).stress;
    EXPECT_LE(p.von_mises, flow * (1 + 1e-12));
    EXPECT_GT(p.von_mises, 0.98 * flow);
  }
  EXPECT_EQ(middle.equivalent_plastic_strain, states[4].equivalent_plastic_strain);
  // Plane strain: s11 - s33 = (2/sqrt 3) flow stress within the elastic width strain.
  EXPECT_NEAR(pad.stress[0] + 100, 2 / std::sqrt(3.0) * pad.von_mises, 0.01 * pad.von_mises);
}

void expect_faces_at_flow_stress(const SheetMaterial& material, const auto& yield) {
  const Section section(material, 9);
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  frozen.outer_pressure = 100;
  Vector6d at = Vector6d::Zero();
  at[4] = -0.1;  // across the rolling direction, pad face stretched
  States states(9);
  respond(section, at, frozen, States(9), &states);
  for (const double zeta : {-0.5, 0.5}) {
    const SectionPoint p = section.sample(section_strain(at), frozen, states.data(), zeta);
    const Vector3d stress(p.stress[0] + p.stress[1], p.stress[0] - p.stress[1], 2 * p.stress[2]);
    const double flow = flow_stress(section.material().hardening, p.equivalent_plastic_strain).stress;
    const double equivalent = yield.equivalent_stress(stress, p.normal_stress);
    EXPECT_LE(equivalent, flow * (1 + 1e-12));
    EXPECT_GT(equivalent, 0.98 * flow);
    EXPECT_NEAR(p.von_mises, von_mises(stress, p.normal_stress), 1e-9);
  }
}

TEST(Section, FaceStressRespectsTheFlowStressOfTheYieldCondition) {
  const PlaneModuli moduli(70000, 0.33);
  expect_faces_at_flow_stress(anisotropic_aluminium(), HillPlane(moduli, HillConstants({0.8, 0.37, 0.54})));
  expect_faces_at_flow_stress(directional_aluminium(), YldPlane(moduli, test::yld2000_sheets().at(1).yield));
}

TEST(Section, TestsOfTheYieldConditionServeAsItsCoefficientsDo) {
  const Yld2000& yield = test::yld2000_sheets().at(1).yield;
  SheetMaterial fitted = directional_aluminium();
  Yld2000Tests tests{yield.exponent, {}, {}};
  for (std::size_t i = 0; i < 4; ++i) {
    const YieldTest test =
        i < 3 ? tension_test(yield, static_cast<double>(i) * std::numbers::pi / 4) : equibiaxial_test(yield);
    tests.yield_ratios.at(i) = test.ratio;
    tests.r_values.at(i) = test.r_value;
  }
  fitted.yield = tests;
  Vector6d at;
  at << 0.05, -0.02, 0.03, 0.1, 0, 0.02;
  const Vector6d given =
      respond(Section(directional_aluminium(), 9), at, frozen_sheet(), States(9)).resultant;
  const Vector6d found = respond(Section(fitted, 9), at, frozen_sheet(), States(9)).resultant;
  EXPECT_LT((given - found).norm(), 1e-9 * given.norm());
}

TEST(Section, RefusesAFoldedLayer) {
  const Section section(steel(), 5);
  SectionStrain strain;
  strain.membrane = {-0.6, 0, 0};
  SectionResponse response;
  States committed(5);
  States trial(5);
  EXPECT_FALSE(section.respond(strain, frozen_sheet(), committed.data(), trial.data(), response));
}

TEST(Section, RefusesConstantsOutOfRange) {
  SheetMaterial wrong = steel();
  wrong.poissons_ratio = 0.5;
  EXPECT_THROW(Section(wrong, 5), std::invalid_argument);
  wrong = steel();
  wrong.hardening = SwiftHardening{530, 0, 0.2};
  EXPECT_THROW(Section(wrong, 5), std::invalid_argument);
  wrong.hardening = VoceHardening{300, 200, 1};
  EXPECT_THROW(Section(wrong, 5), std::invalid_argument);
  EXPECT_THROW(Section(steel(), 0), std::invalid_argument);
  const std::vector<Hardening> laws = {VoceHardening{300, 200, 1},
                                       HollomonHardening{205, 0.2, 0},
                                       LudwikHardening{0, 300, 0.4},
                                       LudwikHardening{100, 300, 1},
                                       SwiftVoceHardening{1.1, {530, 0.005, 0.2}, {140, 330, 12}},
                                       SwiftVoceHardening{0.5, {530, 0.005, 0.2}, {140, 130, 12}},
                                       TableHardening{{{0, 200}, {0.1, 190}}}};
  for (const Hardening& law : laws) {
    wrong = steel();
    wrong.hardening = law;
    EXPECT_THROW(Section(wrong, 5), std::invalid_argument);
  }
  const std::vector<YieldCondition> yields = {
      Yld2000{1.5, {1, 1, 1, 1, 1, 1, 1, 1}}, Yld2000{8, {1, 1, 1, 0, 1, 1, 1, 1}},
      Yld2000{8, {1, 1, 1, 1, 1, 1, -1, 1}}, Yld2000Tests{8, {1, 1, 0, 1}, {1, 1, 1, 1}},
      Yld2000Tests{8, {1, 1, 1, 1}, {1, 1, 1, -0.5}}};
  for (const YieldCondition& yield : yields) {
    wrong = steel();
    wrong.yield = yield;
    EXPECT_THROW(Section(wrong, 5), std::invalid_argument);
  }
  for (const RValues& r : {RValues{0, 1, 1}, RValues{1, -0.1, 1}, RValues{1, 1, std::nan("")}}) {
    wrong = steel();
    wrong.yield = r;
    EXPECT_THROW(Section(wrong, 5), std::invalid_argument);
  }
}

}  // namespace
}  // namespace halftool::solver
