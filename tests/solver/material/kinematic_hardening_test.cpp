#include <gtest/gtest.h>

#include <random>

#include "solver/material/kinematic_metal.hpp"
#include "solver/material/kinematic_return.hpp"
#include "solver/material/metal_point.hpp"
#include "solver/material/section.hpp"
#include "tests/support/finite_difference.hpp"
#include "tests/support/kinematic_sheets.hpp"
#include "tests/support/yld2000_sheets.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;
using Eigen::VectorXd;

SheetMaterial isotropic(const SheetMaterial& material) {
  SheetMaterial same = material;
  same.hardening = tension_curve(material);
  same.backstress.clear();
  return same;
}

std::vector<SheetMaterial> kinematic_sheets() {
  std::vector<SheetMaterial> sheets = {test::chaboche_steel(), test::three_term_steel(), test::dp780(),
                                       test::mild_cyclic_steel()};
  SheetMaterial hill = test::three_term_steel();
  hill.yield = RValues{0.8, 0.37, 0.54};
  sheets.push_back(hill);
  hill = test::dp780();
  hill.yield = RValues{1.79, 1.51, 2.27};
  sheets.push_back(hill);
  SheetMaterial directional = test::three_term_steel();
  directional.yield = test::yld2000_sheets().at(1).yield;
  sheets.push_back(directional);
  return sheets;
}

TEST(KinematicHardening, StressWithoutReversalIsThatOfTheTensionCurve) {
  for (const SheetMaterial& material : kinematic_sheets()) {
    MetalPoint moving(material);
    MetalPoint fixed(isotropic(material));
    for (const double strain : {0.001, 0.004, 0.01, 0.03, 0.1}) {
      const double expected = fixed.pull(strain);
      // Two surfaces are integrated with an error that one step of 0.07 shows.
      const bool two = std::holds_alternative<YoshidaUemoriHardening>(material.hardening);
      EXPECT_NEAR(moving.pull(strain, two ? 40 : 1) / expected, 1, two ? 2e-3 : 2e-4) << strain;
    }
  }
}

TEST(KinematicHardening, TangentMatchesFiniteDifference) {
  std::mt19937 generator(3);
  std::uniform_real_distribution<double> uniform(-1, 1);
  const auto random = [&] { return Vector3d(uniform(generator), uniform(generator), uniform(generator)); };
  const PlaneModuli moduli(200000, 0.3);
  const QuadraticYield mises(moduli);
  const QuadraticYield hill(HillPlane(moduli, HillConstants({1.79, 1.51, 2.27})));
  const MovingYld2000 yld(YldPlane(moduli, test::yld2000_sheets().at(1).yield));
  const BackstressTerms terms(test::three_term_steel().backstress);
  const VoceHardening voce{200, 260, 8};
  const BackstressLaw backstress(terms, voce);
  const YoshidaUemoriLaw two(std::get<YoshidaUemoriHardening>(test::dp780().hardening));
  int n_plastic = 0;
  const auto check = [&](const auto& yield, const auto& law, double size) {
    std::vector<double> state(16, 0.0);
    std::vector<double> next(16, 0.0);
    MovingPointStress point;
    double work = 0;
    Vector3d plastic = Vector3d::Zero();
    double equivalent = 0;
    Vector3d strain = Vector3d::Zero();
    const auto go = [&](const Vector3d& to, double s33) {
      return update_stress(yield, law, moduli, to, plastic, equivalent, s33, state.data(), next.data(), point,
                           work);
    };
    for (int i = 0; i < 6; ++i) {  // a path that turns
      strain += 0.01 * random();
      ASSERT_TRUE(go(strain, -50));
      state = next;
      plastic = point.plastic_strain;
      equivalent = point.equivalent_plastic_strain;
    }
    strain += size * random();
    const double s33 = -100 * std::abs(uniform(generator));
    ASSERT_TRUE(go(strain, s33));
    const bool plastic_now = point.equivalent_plastic_strain > equivalent;
    n_plastic += plastic_now ? 1 : 0;
    const Eigen::Matrix3d tangent = point.tangent();
    EXPECT_LT((point.symmetric - 0.5 * (tangent + tangent.transpose())).norm(), 1e-12 * tangent.norm());
    const auto stress = [&](const VectorXd& x) -> VectorXd {
      EXPECT_TRUE(go(Vector3d(x), s33));
      return point.stress;
    };
    const auto difference = test::difference_jacobian(stress, strain, VectorXd::Constant(3, 1e-3 * size));
    EXPECT_LT(test::relative_difference(tangent, difference), 1e-6) << size;
  };
  for (int i = 0; i < 200; ++i) {
    const double size = std::pow(10.0, -4 + 3 * (i / 200.0));
    check(mises, backstress, size);
    check(hill, backstress, size);
    check(yld, backstress, size);
    check(mises, two, size);
    check(hill, two, size);
  }
  EXPECT_GT(n_plastic, 500);
  EXPECT_LT(n_plastic, 990);
}

TEST(KinematicHardening, ReturnsFromAnywhereToTheMovedYieldSurface) {
  std::mt19937 generator(5);
  std::uniform_real_distribution<double> uniform(-1, 1);
  for (const SheetMaterial& material : kinematic_sheets()) {
    for (int i = 0; i < 300; ++i) {
      MetalPoint point(material);
      for (int step = 0; step < 4; ++step) {
        const double size = std::pow(10.0, 2.5 * uniform(generator) - 2.5);
        const Vector3d strain =
            point.strain() + size * Vector3d(uniform(generator), uniform(generator), uniform(generator));
        ASSERT_NO_THROW(point.go(strain, -200 * std::abs(uniform(generator)))) << size;
      }
    }
  }
}

TEST(KinematicHardening, BackstressThatMovesNothingLeavesTheIsotropicBits) {
  for (const YieldCondition& yield : std::vector<YieldCondition>{VonMises{}, RValues{0.8, 0.37, 0.54},
                                                                 test::yld2000_sheets().at(1).yield}) {
    SheetMaterial material{"", "", "", 70000, 0.33, VoceHardening{140.2, 330.2, 12.4}, yield};
    MetalPoint fixed(material);
    material.backstress = {{0, 30}, {0, 0}};
    material.falling_modulus = FallingModulus{70000, 50};
    MetalPoint moving(material);
    EXPECT_TRUE(moving.history().empty());
    for (const Vector3d& strain : {Vector3d(0.02, -0.01, 0.01), Vector3d(-0.01, 0.02, 0.03)}) {
      EXPECT_EQ(moving.go(strain, -40), fixed.go(strain, -40));
      EXPECT_EQ(moving.state().plastic_strain, fixed.state().plastic_strain);
      EXPECT_EQ(moving.response().tangent, fixed.response().tangent);
    }
  }
}

TEST(KinematicHardening, OneStepIsAHundredWhereStrainKeepsItsDirection) {
  const Vector3d strain(0.04, 0.01, 0.03);
  for (const SheetMaterial& material : kinematic_sheets()) {
    MetalPoint at_once(material);
    MetalPoint in_steps(material);
    const Vector3d once = at_once.go(strain);
    Vector3d steps;
    for (int i = 1; i <= 100; ++i) steps = in_steps.go(0.01 * i * strain);
    // What is left: stress turns while the elastic strain dies away, as without backstress; two surfaces add
    // their own integration, and the modulus falls with a lag of one step.
    EXPECT_LT((once - steps).norm(), (material.falling_modulus ? 0.06 : 0.03) * steps.norm());
    Vector3d back_at_once = at_once.go(-strain);
    Vector3d back;
    for (int i = 1; i <= 100; ++i) back = in_steps.go((1 - 0.02 * i) * strain);
    EXPECT_LT((back_at_once - back).norm(), 0.03 * back.norm());
  }
}

TEST(KinematicHardening, TurningTheAxesTurnsTheAnswer) {
  // Tensor [11, 22, 12] with a factor on 12, after turning the axes.
  const auto turned = [](const Vector3d& v, double angle, double factor) -> Vector3d {
    const double c = std::cos(angle);
    const double d = std::sin(angle);
    const double shear = v[2] / factor;
    return {c * c * v[0] + d * d * v[1] + 2 * c * d * shear, d * d * v[0] + c * c * v[1] - 2 * c * d * shear,
            factor * (c * d * (v[1] - v[0]) + (c * c - d * d) * shear)};
  };
  const std::vector<Vector3d> path = {{0.03, -0.01, 0.02}, {0.01, 0.02, -0.03}, {-0.02, 0.01, 0.01}};
  for (const SheetMaterial& material : {test::three_term_steel(), test::dp780(), test::mild_cyclic_steel()})
    for (const double angle : {0.4, 1.3, 2.2}) {
      MetalPoint one(material);
      MetalPoint other(material);
      for (const Vector3d& strain : path) {
        const Vector3d stress = one.go(strain, -30);
        const Vector3d same = other.go(turned(strain, angle, 2), -30);
        EXPECT_LT((same - turned(stress, angle, 1)).norm(), 1e-9 * stress.norm());
        EXPECT_NEAR(one.response().thickness_strain, other.response().thickness_strain, 1e-12);
      }
    }
}

TEST(KinematicHardening, FallenModulusIsTheSlopeOfUnloadingAndKeepsTheStressOfAnAcceptedState) {
  SheetMaterial voce{"", "", "", 206000, 0.3, VoceHardening{250, 400, 10}};
  voce.falling_modulus = FallingModulus{159000, 61};
  for (const SheetMaterial& material : {voce, test::mild_cyclic_steel()})
    for (const double strain : {0.005, 0.02, 0.1}) {
      MetalPoint point(material);
      const double loaded = point.pull(strain, 20);
      const Vector3d stress = point.try_strain(point.strain());
      EXPECT_NEAR(stress[0], loaded, 1e-9 * loaded);
      const double p = point.state().equivalent_plastic_strain;
      const double expected = 206000 - (206000 - 159000) * (1 - std::exp(-61 * p));
      const double unloaded = point.pull(strain - 0.2 * loaded / expected);
      EXPECT_NEAR((loaded - unloaded) / (0.2 * loaded / expected) / expected, 1, 1e-9);
      EXPECT_EQ(point.state().equivalent_plastic_strain, p);
    }
}

TEST(KinematicHardening, WorkOfTheStressIsStoredOrDissipated) {
  for (const SheetMaterial& material : kinematic_sheets()) {
    const auto imbalance = [&](int n_steps) {
      MetalPoint point(material);
      Vector3d before = Vector3d::Zero();
      double work = 0;
      const std::vector<Vector3d> corners = {{0.04, -0.01, 0.03}, {-0.01, 0.02, -0.02}, {0.001, 0.001, 0}};
      Vector3d start = Vector3d::Zero();
      for (const Vector3d& corner : corners) {
        for (int i = 1; i <= n_steps; ++i) {
          const Vector3d from = point.strain();
          const Vector3d now = point.go(start + (corner - start) * i / n_steps);
          work += 0.5 * (before + now).dot(point.strain() - from);
          before = now;
        }
        start = corner;
      }
      const SectionResponse& end = point.response();
      EXPECT_GT(end.plastic_work, 0.5 * work);
      return std::abs(work - end.elastic_energy - end.plastic_work) / work;
    };
    const double coarse = imbalance(100);
    const double fine = imbalance(1000);
    EXPECT_LT(fine, 2e-3);
    EXPECT_LT(fine, coarse / 4);
  }
}

TEST(KinematicHardening, FaceStressStaysWithinTheMovedYieldSurface) {
  for (const SheetMaterial& material : {test::chaboche_steel(), test::dp780()}) {
    const Section section(material, 9);
    SectionFrozen frozen;
    frozen.initial_thickness = frozen.thickness = 1;
    std::vector<PointState> points(9);
    std::vector<PointState> trial(9);
    std::vector<double> history(static_cast<std::size_t>(9 * section.n_history()));
    std::vector<double> trial_history(history);
    SectionResponse response;
    SectionStrain strain;
    for (const double curvature : {-0.1, 0.05}) {  // bent and bent back
      for (int i = 1; i <= 20; ++i) {
        strain.curvature[0] = (i == 20 ? 1.0 : 0.05 * i) * curvature;
        ASSERT_TRUE(section.respond(strain, frozen, points.data(), trial.data(), response,
                                    {history.data(), trial_history.data()}));
        points = trial;
        history = trial_history;
      }
      const SectionPoint face = section.sample(strain, frozen, points.data(), 0.5, history.data());
      const SectionPoint inside =
          section.sample(strain, frozen, points.data(), section.zeta()[8], history.data());
      EXPECT_NEAR(face.von_mises / inside.von_mises, 1, 0.1);
      EXPECT_GT(face.stress[0] * -curvature, 0);
    }
  }
}

TEST(KinematicHardening, SectionAnswersWithTheSymmetricPartOfItsTangent) {
  std::mt19937 generator(7);
  std::uniform_real_distribution<double> uniform(-1, 1);
  using Vector6d = Eigen::Matrix<double, 6, 1>;
  const auto random = [&] {
    Vector6d v;
    for (double& x : v) x = uniform(generator);
    return v;
  };
  for (const SheetMaterial& material : kinematic_sheets()) {
    const Section section(material, 5);
    SectionFrozen frozen;
    frozen.initial_thickness = 1;
    frozen.thickness = 0.95;
    frozen.inverse_metric = {0.9, 1.05, 0.04};
    frozen.outer_pressure = 80;
    const std::vector<PointState> virgin(5);
    std::vector<PointState> committed(5);
    std::vector<PointState> trial(5);
    const std::vector<double> none(static_cast<std::size_t>(5 * section.n_history()));
    std::vector<double> history(none);
    std::vector<double> trial_history(none);
    const Vector6d first = 0.1 * random();
    SectionResponse response;
    ASSERT_TRUE(section.respond({first.head<3>(), first.tail<3>()}, frozen, virgin.data(), committed.data(),
                                response, {none.data(), history.data()}));
    const Vector6d at = first + 0.05 * random();
    const auto resultant = [&](const VectorXd& x) -> VectorXd {
      EXPECT_TRUE(section.respond({x.head<3>(), x.tail<3>()}, frozen, committed.data(), trial.data(),
                                  response, {history.data(), trial_history.data()}));
      return response.resultant;
    };
    const Eigen::MatrixXd difference = test::difference_jacobian(resultant, at, VectorXd::Constant(6, 2e-6));
    resultant(at);
    EXPECT_LT(test::relative_difference(response.tangent, 0.5 * (difference + difference.transpose())), 1e-6);
  }
}

TEST(KinematicHardening, UniformStrainIsThatOfTheTensionCurve) {
  for (const SheetMaterial& material : {test::three_term_steel(), test::dp780()}) {
    const Hardening curve = tension_curve(material);
    const FlowTable table(std::get<TableHardening>(curve));
    double best = 0;
    double greatest = 0;
    for (double strain = 0; strain < 0.9; strain += 1e-4) {
      const double load = table.at(strain).stress * std::exp(-strain);
      if (load > greatest) {
        greatest = load;
        best = strain;
      }
    }
    EXPECT_GT(best, 0.02);
    EXPECT_NEAR(uniform_strain(curve), best, 2e-4);
  }
}

TEST(KinematicHardening, IsotropicHardeningOfTheSameSheetKeepsItsTensionCurve) {
  for (SheetMaterial material : {test::three_term_steel(), test::dp780(), test::mild_cyclic_steel()}) {
    EXPECT_TRUE(hardens_kinematically(material));
    EXPECT_GT(Section(material, 5).n_history(), 0);
    const Hardening curve = tension_curve(material);
    material.isotropic = true;
    EXPECT_FALSE(hardens_kinematically(material));
    const SheetMaterial acting = acting_sheet(material);
    EXPECT_FALSE(has_kinematic_constants(acting));
    EXPECT_EQ(acting.falling_modulus.has_value(), material.falling_modulus.has_value());
    if (!acting.falling_modulus) {
      EXPECT_EQ(Section(material, 5).n_history(), 0);
    }
    for (const double strain : {0.0, 0.003, 0.1, 0.5}) {
      EXPECT_EQ(flow_stress(acting.hardening, strain).stress, flow_stress(curve, strain).stress);
      EXPECT_EQ(flow_stress(tension_curve(material), strain).stress, flow_stress(curve, strain).stress);
    }
  }
}

TEST(StrainRate, MultipliesTheWholeLawByOneFactor) {
  for (SheetMaterial material : {test::chaboche_steel(), test::three_term_steel(), test::dp780()}) {
    EXPECT_EQ(rate_factor(material), 1);
    const Hardening before = tension_curve(material);
    material.strain_rate = StrainRate{1, 0.001, 0.02};
    const double factor = std::pow(1000, 0.02);
    EXPECT_DOUBLE_EQ(rate_factor(material), factor);
    const SheetMaterial acting = acting_sheet(material);
    EXPECT_FALSE(acting.strain_rate);
    for (const double strain : {0.0, 0.01, 0.1, 0.4}) {
      const double expected = factor * flow_stress(before, strain).stress;
      EXPECT_NEAR(flow_stress(tension_curve(material), strain).stress, expected, 1e-3 * expected);
      EXPECT_NEAR(flow_stress(tension_curve(acting), strain).stress, expected, 1e-3 * expected);
    }
    material.isotropic = true;
    EXPECT_NEAR(flow_stress(acting_sheet(material).hardening, 0.1).stress,
                factor * flow_stress(before, 0.1).stress, 1e-3 * flow_stress(before, 0.1).stress);
    material.strain_rate = StrainRate{std::nullopt, std::nullopt, 0.02};
    EXPECT_EQ(rate_factor(material), 1);
    EXPECT_EQ(rate_exponent(material), 0.02);
    EXPECT_NO_THROW(Section(material, 5));
    material.strain_rate = StrainRate{1, std::nullopt, 0.02};
    EXPECT_THROW(Section(material, 5), std::invalid_argument);
    material.strain_rate = StrainRate{0, 0.001, 0.02};
    EXPECT_THROW(Section(material, 5), std::invalid_argument);
  }
}

TEST(KinematicHardening, RefusesConstantsOutOfRange) {
  const auto refuses = [](const SheetMaterial& material) {
    EXPECT_THROW(Section(material, 5), std::invalid_argument);
  };
  SheetMaterial wrong = test::three_term_steel();
  wrong.backstress[0].modulus = -1;
  refuses(wrong);
  wrong = test::three_term_steel();
  wrong.backstress[1].rate = -1;
  refuses(wrong);
  wrong = test::three_term_steel();
  wrong.backstress.push_back({100, 1});
  refuses(wrong);
  wrong = test::dp780();
  wrong.backstress = {{100, 1}};
  refuses(wrong);
  wrong = test::dp780();
  wrong.yield = Yld2000{};
  refuses(wrong);
  const auto of_two = [](double YoshidaUemoriHardening::*constant, double value) {
    SheetMaterial material = test::dp780();
    std::get<YoshidaUemoriHardening>(material.hardening).*constant = value;
    return material;
  };
  refuses(of_two(&YoshidaUemoriHardening::yield, 0));
  refuses(of_two(&YoshidaUemoriHardening::bound, 300));
  refuses(of_two(&YoshidaUemoriHardening::bound_shift, -1));
  refuses(of_two(&YoshidaUemoriHardening::bound_gain, std::nan("")));
  refuses(of_two(&YoshidaUemoriHardening::approach, 0));
  refuses(of_two(&YoshidaUemoriHardening::stagnation, 1.1));
  wrong = test::mild_cyclic_steel();
  wrong.falling_modulus->saturated = 210000;
  refuses(wrong);
  wrong.falling_modulus = FallingModulus{150000, -1};
  refuses(wrong);
}

}  // namespace
}  // namespace halftool::solver
