// Objectivity: a bulged sheet that is turned in space as a rigid body keeps its strain, stress, history and
// balance. Exact; no source needed.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <numbers>
#include <random>
#include <string>
#include <tuple>
#include <vector>

#include "solver/assembly/balance.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/exact_surface.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace {

using namespace halftool;
using namespace halftool::test;
using Eigen::Matrix3d;
using Eigen::Vector3d;

constexpr double kPressure = 15;     // [MPa]
constexpr double kBalanced = 1e-10;  // out-of-balance force over the pressure's, some ten times its rounding
constexpr int kLayers = 5;

// What a rigid rotation must leave as it is, a column a triangle.
struct Inner {
  Eigen::MatrixXd strain;          // (6, n) membrane and curvature
  Eigen::MatrixXd resultant;       // (6, n)
  Eigen::MatrixXd face_stress;     // (6, n) outer, inner
  Eigen::MatrixXd plastic_strain;  // (4 * layers, n) with the equivalent one
};

class RigidRotation : public testing::TestWithParam<std::tuple<unsigned, bool>> {
 protected:
  RigidRotation()
      : model_(make_model()),
        pattern_(model_.triangle_equations, model_.equations.count),
        state_(bulged()),
        scale_(inner(state_, state_.place)) {
    loading_.pressure = kPressure;
    loading_.normal_stress = false;
  }

  static solver::SheetModel make_model() {
    const auto [seed, elastic] = GetParam();
    mesh::Blank blank = blank_of(rectangle(20, 20, 8, 8, {seed, 0.3}), 0.8);
    blank.rim_held = true;
    const solver::SheetMaterial steel{.name = "sheet steel",
                                      .source = "invented",
                                      .grade = "guessed",
                                      .youngs_modulus = 206e3,
                                      .poissons_ratio = 0.3,
                                      .hardening = solver::SwiftHardening{530, 0.005, 0.2}};
    solver::SheetModel model = solver::make_model(blank, steel, kLayers, true);
    model.elastic = elastic;
    return model;
  }

  solver::SheetState bulged() const {
    LoadedSheet sheet(model_, {}, kPressure);
    sheet.load_to(1);
    sheet.settle(kBalanced);
    return sheet.state();
  }

  solver::Balance balance_in(const solver::SheetState& state, const solver::SheetPlace& place) const {
    return solver::balance(model_, pattern_, state, place, loading_, false, 1);
  }

  // Positions turned; turns so that the mid-side normals turn along.
  solver::SheetPlace turned(const solver::SheetState& state, const Matrix3d& rotation) const {
    solver::SheetPlace place = state.place;
    place.positions = state.place.positions * rotation.transpose();
    for (std::size_t e = 0; e < state.frames.size(); ++e) {
      const Vector3d normal = solver::mid_side_normal(state.frames[e], state.place.turn(e));
      place.turn(e) = turn_towards(state.frames[e], rotation * state.frames[e].tangent, rotation * normal);
    }
    return place;
  }

  Inner inner(const solver::SheetState& state, const solver::SheetPlace& place) const {
    const int n = model_.n_triangles();
    Inner all{Eigen::MatrixXd(6, n), Eigen::MatrixXd(6, n), Eigen::MatrixXd(6, n),
              Eigen::MatrixXd(4 * kLayers, n)};
    for (int t = 0; t < n; ++t) {
      const auto strain = solver::triangle_strain(model_.references[t],
                                                  solver::triangle_state(model_, place, state.frames, t));
      const solver::SectionStrain section{strain.value.head<3>(), strain.value.tail<3>()};
      const auto frozen = solver::section_frozen(model_, state, t, 0, false);
      std::vector<solver::PointState> trial(kLayers);
      solver::SectionResponse response;
      EXPECT_TRUE(
          model_.section.respond(section, frozen, &state.points[t * kLayers], trial.data(), response));
      all.strain.col(t) = strain.value;
      all.resultant.col(t) = response.resultant;
      all.face_stress.col(t) << model_.section.sample(section, frozen, trial.data(), 0.5).stress,
          model_.section.sample(section, frozen, trial.data(), -0.5).stress;
      for (int i = 0; i < kLayers; ++i)
        all.plastic_strain.col(t).segment<4>(4 * i) << trial[i].plastic_strain,
            trial[i].equivalent_plastic_strain;
    }
    return all;
  }

  void expect_same(const Inner& a, const Inner& b) const {
    const auto miss = [](const Eigen::MatrixXd& x, const Eigen::MatrixXd& y, const Eigen::MatrixXd& scale) {
      return (x - y).cwiseAbs().maxCoeff() / std::max(1e-300, scale.cwiseAbs().maxCoeff());
    };
    EXPECT_LT(miss(a.strain.topRows(3), b.strain.topRows(3), scale_.strain.topRows(3)), 1e-10);
    EXPECT_LT(miss(a.strain.bottomRows(3), b.strain.bottomRows(3), scale_.strain.bottomRows(3)), 1e-10);
    EXPECT_LT(miss(a.resultant.topRows(3), b.resultant.topRows(3), scale_.resultant.topRows(3)), 1e-10);
    EXPECT_LT(miss(a.resultant.bottomRows(3), b.resultant.bottomRows(3), scale_.resultant.bottomRows(3)),
              1e-10);
    EXPECT_LT(miss(a.face_stress, b.face_stress, scale_.face_stress), 1e-10);
    EXPECT_LT(miss(a.plastic_strain, b.plastic_strain, scale_.plastic_strain), 1e-10);
  }

  // Over the pressure's force.
  double out_of_balance(const solver::SheetState& state, const solver::SheetPlace& place) const {
    const solver::Balance balance = balance_in(state, place);
    return balance.out_of_balance.norm() / (kPressure * balance.pressure_force.norm());
  }

  solver::SheetModel model_;
  solver::SparsityPattern pattern_;
  solver::SheetState state_;
  Inner scale_;
  solver::Loading loading_;
};
INSTANTIATE_TEST_SUITE_P(Seeds, RigidRotation, testing::Combine(testing::Values(1U, 2U), testing::Bool()),
                         [](const auto& test) {
                           return (std::get<1>(test.param) ? std::string("Elastic")
                                                           : std::string("Plastic")) +
                                  "Seed" + std::to_string(std::get<0>(test.param));
                         });

Matrix3d about(const Vector3d& axis, double degrees) {
  return Eigen::AngleAxisd(degrees * std::numbers::pi / 180, axis.normalized()).toRotationMatrix();
}

TEST_P(RigidRotation, LeavesStressAndBalanceInOneGo) {
  const Inner before = inner(state_, state_.place);
  const bool elastic = std::get<1>(GetParam());
  ASSERT_TRUE(elastic || before.plastic_strain.cwiseAbs().maxCoeff() > 0.02);
  ASSERT_LT(out_of_balance(state_, state_.place), kBalanced);
  for (const Matrix3d& rotation : {about({1, 0, 0}, 40), about({1, 2, 3}, 90), about({-2, 1, 0.5}, 150)}) {
    const solver::SheetPlace place = turned(state_, rotation);
    expect_same(inner(state_, place), before);
    EXPECT_LT(out_of_balance(state_, place), 2 * kBalanced);
  }
}

// Frames are carried along forty times; nothing may drift.
TEST_P(RigidRotation, LeavesStressAndBalanceInManyIncrements) {
  std::mt19937 generator(7);
  std::normal_distribution<double> normal;
  solver::SheetState tumbling = state_;
  for (int i = 0; i < 40; ++i) {
    const Matrix3d rotation = about({normal(generator), normal(generator), normal(generator)}, 50);
    const solver::SheetPlace place = turned(tumbling, rotation);
    tumbling = solver::accept(model_, tumbling, place, balance_in(tumbling, place), kPressure);
  }
  expect_same(inner(tumbling, tumbling.place), inner(state_, state_.place));
  EXPECT_LT(out_of_balance(tumbling, tumbling.place), 2 * kBalanced);
}

}  // namespace
