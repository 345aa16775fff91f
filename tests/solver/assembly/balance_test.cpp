#include "solver/assembly/balance.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <random>

#include "tests/support/blank_of.hpp"
#include "tests/support/finite_difference.hpp"

namespace halftool::solver {
namespace {

constexpr int kLayers = 5;

mesh::Blank small_blank() {
  mesh::SurfaceMesh mesh;
  const int n = 4;
  std::mt19937 random(7);
  std::uniform_real_distribution<double> shift(-0.2, 0.2);
  mesh.nodes.resize(n * n, 3);
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < n; ++j) {
      const bool inside = i > 0 && i < n - 1 && j > 0 && j < n - 1;
      mesh.nodes.row(i * n + j) << i + (inside ? shift(random) : 0), j + (inside ? shift(random) : 0), 0;
    }
  mesh.triangles.resize(2 * (n - 1) * (n - 1), 3);
  int t = 0;
  for (int i = 0; i + 1 < n; ++i)
    for (int j = 0; j + 1 < n; ++j) {
      const int a = i * n + j;
      mesh.triangles.row(t++) << a, a + n, a + n + 1;
      mesh.triangles.row(t++) << a, a + n + 1, a + 1;
    }
  mesh::Blank blank = test::blank_of(mesh, 0.5);
  test::mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  return blank;
}

SheetMaterial soft_aluminium() {
  SheetMaterial material;
  material.youngs_modulus = 70000;
  material.poissons_ratio = 0.33;
  material.hardening = SwiftHardening{200, 0.002, 0.2};
  return material;
}

// A flat tool that the sheet has been pressed into a little, wide enough for every test point.
mesh::ToolSurface flat_tool(double height) {
  mesh::SurfaceMesh mesh;
  mesh.nodes.resize(4, 3);
  mesh.nodes << -50, -50, height, 50, -50, height, 50, 50, height, -50, 50, height;
  mesh.triangles.resize(2, 3);
  mesh.triangles << 0, 1, 2, 0, 2, 3;
  mesh::Points normals(6, 3);
  normals.rowwise() = Eigen::RowVector3d::UnitZ();
  return {mesh, normals};
}

struct Patch {
  SheetModel model = make_model(small_blank(), soft_aluminium(), kLayers, true);
  SparsityPattern pattern{model.triangle_equations, model.equations.count};
  SheetState committed = initial_state(model);
  mesh::PinnedRim pinned = {};

  [[nodiscard]] SheetPlace shaken(const SheetPlace& place, double size, unsigned seed) const {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, size);
    Eigen::VectorXd change(model.equations.count);
    for (double& value : change) value = normal(random);
    return moved(place, model.equations, change);
  }

  [[nodiscard]] Balance at(const SheetPlace& place, const Loading& loading, bool want_stiffness,
                           int threads = 1) const {
    return balance(model, pattern, committed, place, loading, want_stiffness, threads);
  }

  // Takes a shaken state over, so that frames, thickness and metric are not those of the flat blank.
  void bend_and_accept(const Loading& loading) {
    SheetPlace place = committed.place;
    for (Eigen::Index i = 0; i < place.positions.rows(); ++i)
      place.positions(i, 2) += 0.05 * place.positions(i, 0) * place.positions(i, 0);
    place = shaken(place, 2e-3, 3);
    committed = accept(model, committed, place, at(place, loading, false), loading.pressure);
  }

  void let_tool_carry(double share) {
    for (TriangleMemory& memory : committed.memory) memory.contact_pressure = share * committed.pressure;
  }
};

Eigen::MatrixXd dense_stiffness(const Patch& patch, const Balance& balance) {
  const int n = patch.model.equations.count;
  Eigen::MatrixXd k(n, n);
  for (int i = 0; i < n; ++i)
    k.col(i) = patch.pattern.multiply(balance.stiffness, Eigen::VectorXd::Unit(n, i));
  return k;
}

Eigen::MatrixXd jacobian(const Patch& patch, const SheetPlace& place, const Loading& loading) {
  const int n = patch.model.equations.count;
  const auto balance_after = [&](const Eigen::VectorXd& change) {
    return patch.at(moved(place, patch.model.equations, change), loading, false).out_of_balance;
  };
  return test::difference_jacobian(balance_after, Eigen::VectorXd::Zero(n),
                                   Eigen::VectorXd::Constant(n, 2e-6));
}

// The stiffness is the symmetric part of the true Jacobian (the follower pressure is unsymmetric at free
// edges).
void expect_stiffness(const Patch& patch, const SheetPlace& place, const Loading& loading) {
  const Eigen::MatrixXd k = dense_stiffness(patch, patch.at(place, loading, true));
  const Eigen::MatrixXd j = jacobian(patch, place, loading);
  const Eigen::MatrixXd symmetric = 0.5 * (j + j.transpose());
  EXPECT_LT((k - symmetric).norm(), 1e-6 * symmetric.norm());
}

// The terms that carry a load are small beside the membrane stiffness: compared alone, by differences in the
// load.
void expect_load_stiffness(const Patch& patch, const SheetPlace& place, const Loading& with,
                           const Loading& without) {
  const Eigen::MatrixXd k = dense_stiffness(patch, patch.at(place, with, true)) -
                            dense_stiffness(patch, patch.at(place, without, true));
  const Eigen::MatrixXd j = jacobian(patch, place, with) - jacobian(patch, place, without);
  const Eigen::MatrixXd symmetric = 0.5 * (j + j.transpose());
  ASSERT_GT(symmetric.norm(), 0);
  EXPECT_LT((k - symmetric).norm(), 1e-5 * symmetric.norm());
}

Loading pressed(double pressure) {
  Loading loading;
  loading.pressure = pressure;
  loading.normal_pressure = pressure;
  loading.contact = {5e3, 0, 1e-3};
  return loading;
}

TEST(Balance, MetalStiffnessMatchesFiniteDifference) {
  Patch patch;
  patch.bend_and_accept(pressed(0));
  expect_stiffness(patch, patch.shaken(patch.committed.place, 1e-3, 11), pressed(0));
}

TEST(Balance, NormalStressKeepsTheStiffnessConsistent) {
  Patch patch;
  patch.bend_and_accept(pressed(30));
  Loading loading = pressed(0);
  loading.normal_pressure = 45;
  expect_stiffness(patch, patch.shaken(patch.committed.place, 1e-3, 11), loading);
}

TEST(Balance, PressureStiffnessMatchesFiniteDifference) {
  for (const double on_tool : {0.0, 0.6, 1.5}) {
    Patch patch;
    patch.bend_and_accept(pressed(10));
    patch.let_tool_carry(on_tool);
    Loading with = pressed(500);
    Loading without = pressed(0);
    with.normal_stress = without.normal_stress = false;
    with.edges_loaded = without.edges_loaded = false;
    expect_load_stiffness(patch, patch.shaken(patch.committed.place, 1e-4, 5), with, without);
  }
}

// Off the tool the fluid leaves the turns alone; on it its work on them is the height's, once.
TEST(Balance, FluidTurnsEdgesOnlyAsFarAsTheToolCarriesIt) {
  const auto turning = [](double on_tool) {
    Patch patch;
    patch.bend_and_accept(pressed(10));
    patch.let_tool_carry(on_tool);
    Loading loading = pressed(10);
    loading.edges_loaded = false;
    const Eigen::VectorXd force = patch.at(patch.committed.place, loading, false).pressure_force;
    double sum = 0;
    for (const int eq : patch.model.equations.turn)
      if (eq >= 0) sum += std::abs(force(eq));
    return sum;
  };
  EXPECT_EQ(turning(0), 0);
  EXPECT_GT(turning(1), 0);
  EXPECT_NEAR(turning(0.25), 0.25 * turning(1), 1e-9 * turning(1));
  EXPECT_EQ(turning(2), turning(1));
}

// The pin stands in for one in a hole: it bears on an outer edge of the patch.
TEST(Balance, PinStiffnessMatchesFiniteDifference) {
  Patch patch;
  const mesh::EdgeTable& edges = patch.model.blank.edges;
  for (int e = 0; e < edges.n_edges(); ++e)
    if (edges.is_boundary(e) && patch.model.blank.mesh.nodes.row(edges.nodes(e, 0)).x() > 2.9 &&
        patch.model.blank.mesh.nodes.row(edges.nodes(e, 1)).x() > 2.9)
      patch.pinned.edges.push_back(e);
  patch.pinned.pin = {{4.0, 1.2}, 1.1};
  patch.model.blank.pins = {patch.pinned};
  const mesh::ToolSurface far = flat_tool(-40);
  Loading with = pressed(0);
  with.tool = &far;
  const SheetPlace place = patch.shaken(patch.committed.place, 1e-4, 5);
  expect_load_stiffness(patch, place, with, pressed(0));
  const Eigen::VectorXd force =
      patch.at(place, pressed(0), false).out_of_balance - patch.at(place, with, false).out_of_balance;
  EXPECT_GT(force.norm(), 0);
}

TEST(Balance, FrictionOfATriangleStandsAboveThatOfTheContact) {
  Patch patch;
  const mesh::ToolSurface tool = flat_tool(-0.24);
  Loading loading = pressed(0);
  loading.tool = &tool;
  SheetPlace slid = patch.committed.place;
  slid.positions.col(1).array() += 0.1;
  loading.contact.friction = 0.3;
  const Eigen::VectorXd uniform = patch.at(slid, loading, false).out_of_balance;
  loading.contact.friction = 0.1;
  const Eigen::VectorXd mu = Eigen::VectorXd::Constant(patch.model.n_triangles(), 0.3);
  loading.friction_of = &mu;
  EXPECT_EQ(patch.at(slid, loading, false).out_of_balance, uniform);
  const Eigen::VectorXd none = Eigen::VectorXd::Zero(patch.model.n_triangles());
  loading.friction_of = &none;
  EXPECT_GT((patch.at(slid, loading, false).out_of_balance - uniform).norm(), 1e-3 * uniform.norm());
}

TEST(Balance, CutEdgeStiffnessMatchesFiniteDifference) {
  Patch patch;
  patch.bend_and_accept(pressed(10));
  Loading with = pressed(500);
  Loading without = with;
  without.edges_loaded = false;
  expect_load_stiffness(patch, patch.shaken(patch.committed.place, 1e-4, 5), with, without);
}

TEST(Balance, ContactStiffnessMatchesFiniteDifference) {
  Patch patch;
  patch.bend_and_accept(pressed(0));
  const mesh::ToolSurface tool = flat_tool(0.3);  // part of the bent sheet stands clear, part is well inside
  Loading with = pressed(0);
  with.tool = &tool;
  const SheetPlace place = patch.shaken(patch.committed.place, 1e-4, 5);
  ASSERT_LT(patch.at(place, with, false).smallest_gap, -0.01);
  expect_load_stiffness(patch, place, with, pressed(0));
}

// All triangles around a node touched in the accepted state: then it is stopped as well, on flat ground
// within 0.2 % of the thickness.
TEST(Balance, NodeStopStiffnessMatchesFiniteDifference) {
  Patch patch;
  patch.bend_and_accept(pressed(0));
  for (TriangleMemory& memory : patch.committed.memory) memory.friction.touching = true;
  const mesh::ToolSurface tool = flat_tool(0.3);
  Loading with = pressed(0);
  with.tool = &tool;
  const SheetPlace place = patch.shaken(patch.committed.place, 1e-4, 5);
  const double stopped = patch.at(place, with, false).tool_resultant.z();
  expect_load_stiffness(patch, place, with, pressed(0));
  for (TriangleMemory& memory : patch.committed.memory) memory.friction.touching = false;
  EXPECT_GT(stopped, 1.5 * patch.at(place, with, false).tool_resultant.z());
}

TEST(Balance, NodesAreStoppedOnlyWhereEverythingAroundThemTouches) {
  Patch patch;
  const double thickness = patch.model.blank.thickness;
  const mesh::ToolSurface tool = flat_tool(-0.5 * thickness);
  Loading loading = pressed(0);
  loading.tool = &tool;
  const int node = 5;  // inside the patch, its triangles held up by the others
  const auto resultant = [&](double dip) {
    SheetPlace place = patch.committed.place;
    place.positions.col(2).array() += 0.1 * thickness;
    place.positions(node, 2) = -dip * thickness;
    return patch.at(place, loading, false).tool_resultant.z();
  };
  for (TriangleMemory& memory : patch.committed.memory) memory.friction.touching = true;
  double area = 0;
  int around = -1;
  for (int t = 0; t < patch.model.n_triangles(); ++t)
    if ((patch.model.blank.mesh.triangles.row(t).array() == node).any()) {
      area += patch.committed.memory[t].area / 3;
      around = t;
    }
  EXPECT_EQ(resultant(0.0019), 0);
  EXPECT_NEAR(resultant(0.01), loading.contact.stiffness * area * (0.01 - 0.002) * thickness, 1e-9);
  patch.committed.memory[around].friction.touching = false;
  EXPECT_EQ(resultant(0.01), 0);
}

TEST(Balance, SameBitsForAnyNumberOfThreads) {
  Patch patch;
  patch.bend_and_accept(pressed(10));
  const mesh::ToolSurface tool = flat_tool(0.3);
  Loading loading = pressed(10);
  loading.tool = &tool;
  loading.contact.friction = 0.1;
  const Balance one = patch.at(patch.committed.place, loading, true, 1);
  const Balance three = patch.at(patch.committed.place, loading, true, 3);
  EXPECT_EQ(one.out_of_balance, three.out_of_balance);
  EXPECT_EQ(one.stiffness, three.stiffness);
}

TEST(Balance, UniformPressureOnAFlatSheetPushesItsArea) {
  Patch patch;
  Loading loading = pressed(2);
  loading.edges_loaded = false;
  const Balance balance = patch.at(patch.committed.place, loading, false);
  EXPECT_NEAR(balance.fluid_resultant.z(), -2 * 9.0, 1e-12);
  EXPECT_NEAR(balance.fluid_resultant.x(), 0, 1e-12);
}

// A plate squeezed by the same pressure on the pad face, the tool face and the cut edges is in hydrostatic
// stress: it must neither yield nor bulge at any pressure.
TEST(Balance, AllRoundPressureDoesNotYield) {
  Patch patch;
  const mesh::ToolSurface tool = flat_tool(-0.25);
  Loading loading = pressed(400);
  loading.tool = &tool;
  loading.contact.stiffness = 1e5;
  SheetState& state = patch.committed;
  state.pressure = 400;
  const double nu = 0.33;
  const double squeeze = -400 * (1 - 2 * nu) / 70000;
  for (TriangleMemory& memory : state.memory) {
    memory.contact_pressure = 400;
    memory.area *= std::exp(2 * squeeze);
    memory.thickness *= std::exp(squeeze);
  }
  state.place.positions.col(2).setConstant(-0.25 + 0.5 * state.memory[0].thickness -
                                           400 / loading.contact.stiffness);
  for (int i : {0, 1}) state.place.positions.col(i) *= std::sqrt(1 + 2 * (std::exp(2 * squeeze) - 1) / 2);
  const Balance balance = patch.at(state.place, loading, false);
  ASSERT_TRUE(balance.valid);
  EXPECT_NEAR(balance.plastic_work, 0, 1e-12);
  // The normal stress counts as Kirchhoff's: what is left is the volume's change, 3 times the squeeze.
  EXPECT_LT(balance.out_of_balance.lpNorm<Eigen::Infinity>(), 1.1 * 3 * std::abs(squeeze) * 400 * 0.5);
}

}  // namespace
}  // namespace halftool::solver
