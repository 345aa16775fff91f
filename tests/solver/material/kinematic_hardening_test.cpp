#include <gtest/gtest.h>

#include <random>

#include "solver/material/kinematic_metal.hpp"
#include "solver/material/kinematic_return.hpp"
#include "solver/material/section.hpp"
#include "tests/support/finite_difference.hpp"
#include "tests/support/kinematic_sheets.hpp"
#include "tests/support/metal_point.hpp"
#include "tests/support/yld2000_sheets.hpp"

namespace halftool::solver {
namespace {

using Eigen::Vector3d;
using Eigen::VectorXd;
using test::MetalPoint;

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

}  // namespace
}  // namespace halftool::solver
