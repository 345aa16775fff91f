// Every derivative of the element against differences and, independently, against automatic differentiation
// of the definitions written out once more.
#include <gtest/gtest.h>

#include <Eigen/Core>
#include <unsupported/Eigen/AutoDiff>

#include "tests/support/finite_difference.hpp"
#include "tests/support/triangle_samples.hpp"

namespace {

using namespace halftool::solver;
using namespace halftool::test;

constexpr double kStep = 1e-3;   // four-point differences: truncation about 1e-12 of the fifth derivative
constexpr double kAgree = 2e-8;  // relative to the largest entry
const Eigen::VectorXd kSteps = Eigen::VectorXd::Constant(kTriangleUnknowns, kStep);

TriangleStrain strain_at(const TriangleSample& s, const Eigen::VectorXd& u) {
  return triangle_strain(s.reference, with_unknowns(s.state, u));
}

class TriangleDerivatives : public ::testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, TriangleDerivatives, ::testing::Range(1u, 21u));

TEST_P(TriangleDerivatives, StrainGradientMatchesDifferences) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();

  const Eigen::MatrixXd differences =
      difference_jacobian([&](const Eigen::VectorXd& u) -> Eigen::VectorXd { return strain_at(s, u).value; },
                          unknowns(s.state), kSteps);

  EXPECT_LT(relative_difference(strain_at(s, unknowns(s.state)).gradient, differences), kAgree);
}

TEST_P(TriangleDerivatives, GeometricStiffnessMatchesDifferencesAndIsSymmetric) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  const Eigen::Matrix<double, 6, 1> resultant = sampler.matrix<6, 1>(1);

  const TriangleMatrix stiffness = geometric_stiffness(s.reference, s.state, resultant);

  const Eigen::MatrixXd differences = difference_jacobian(
      [&](const Eigen::VectorXd& u) -> Eigen::VectorXd {
        return strain_at(s, u).gradient.transpose() * resultant;
      },
      unknowns(s.state), kSteps);
  EXPECT_LT(relative_difference(stiffness, differences), kAgree);
  EXPECT_LT(relative_difference(stiffness, stiffness.transpose()), 1e-12);
}

MiddlePoint middle_at(const TriangleSample& s, const Eigen::VectorXd& u) {
  return middle_point(s.reference, with_unknowns(s.state, u), strain_at(s, u));
}

TEST_P(TriangleDerivatives, MiddlePointGradientMatchesDifferences) {
  const TriangleSample s = TriangleSampler(GetParam()).sample();

  const Eigen::MatrixXd differences = difference_jacobian(
      [&](const Eigen::VectorXd& u) -> Eigen::VectorXd { return middle_at(s, u).position; },
      unknowns(s.state), kSteps);

  EXPECT_LT(relative_difference(middle_at(s, unknowns(s.state)).gradient, differences), kAgree);
}

TEST_P(TriangleDerivatives, MiddleForceStiffnessMatchesDifferencesAndIsSymmetric) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  const Eigen::Vector3d force = sampler.vector(1);

  const TriangleMatrix stiffness =
      middle_force_stiffness(s.reference, s.state, triangle_strain(s.reference, s.state), force);

  const Eigen::MatrixXd differences = difference_jacobian(
      [&](const Eigen::VectorXd& u) -> Eigen::VectorXd {
        return middle_at(s, u).gradient.transpose() * force;
      },
      unknowns(s.state), kSteps);
  EXPECT_LT(relative_difference(stiffness, differences), kAgree);
  EXPECT_LT(relative_difference(stiffness, stiffness.transpose()), 1e-12);
}

// The definitions over again in any number type, by another road: heights and normals from the deformed
// triangle, carried directors by rotation, the in-plane strain from metric coefficients of two reference
// edges.
using First = Eigen::AutoDiffScalar<TriangleVector>;
using Second = Eigen::AutoDiffScalar<Eigen::Matrix<First, kTriangleUnknowns, 1>>;
template <class T>
using Vec3 = Eigen::Matrix<T, 3, 1>;

template <class T>
Vec3<T> cross(const Vec3<T>& a, const Vec3<T>& b) {
  return Vec3<T>(T(a(1) * b(2) - a(2) * b(1)), T(a(2) * b(0) - a(0) * b(2)), T(a(0) * b(1) - a(1) * b(0)));
}
template <class T>
T dot(const Vec3<T>& a, const Vec3<T>& b) {
  return T(a(0) * b(0) + a(1) * b(1) + a(2) * b(2));
}
template <class T>
T norm(const Vec3<T>& a) {
  using std::sqrt;
  return T(sqrt(dot(a, a)));
}

template <class T>
T turn_by_definition(const Vec3<T>& edge, const Vec3<T>& normal, const EdgeFrame& frame, double sign,
                     const T& phi) {
  using std::atan2;
  using std::cos;
  using std::sin;
  const T length = norm(edge);
  Vec3<T> t, walk, tangent,
      d;  // the smallest rotation that takes the frame's tangent to t, applied to the director
  for (int c = 0; c < 3; ++c) {
    walk(c) = edge(c) / length;
    t(c) = sign * walk(c);
    tangent(c) = T(frame.tangent(c));
    d(c) = T(frame.director(c));
  }
  const Vec3<T> axis = cross(tangent, t);
  const Vec3<T> once = cross(axis, d);
  const Vec3<T> twice = cross(axis, once);
  const T factor = 1.0 / (1.0 + dot(tangent, t));
  Vec3<T> carried, m;
  for (int c = 0; c < 3; ++c) carried(c) = d(c) + once(c) + factor * twice(c);
  const Vec3<T> side = cross(t, carried);
  const T cosine = cos(phi);
  const T sine = sin(phi);
  for (int c = 0; c < 3; ++c) m(c) = cosine * carried(c) + sine * side(c);
  return T(atan2(dot(cross(m, normal), walk), dot(m, normal)));
}

template <class T>
T work_by_definition(const TriangleSample& s, const Eigen::Matrix<T, kTriangleUnknowns, 1>& u,
                     const Eigen::Matrix<double, 6, 1>& resultant) {
  std::array<Vec3<T>, 3> x;
  for (std::size_t a = 0; a < 3; ++a)
    for (int c = 0; c < 3; ++c) x[a](c) = u(3 * static_cast<int>(a) + c);
  const TriangleReference& r = s.reference;
  Vec3<T> p, q;  // deformed edges from node 0
  for (int c = 0; c < 3; ++c) {
    p(c) = x[1](c) - x[0](c);
    q(c) = x[2](c) - x[0](c);
  }
  const Vec3<T> area_vector = cross(p, q);
  const T twice_area = norm(area_vector);
  Vec3<T> normal;
  for (int c = 0; c < 3; ++c) normal(c) = area_vector(c) / twice_area;

  // E = G^-T g G^-1 with G the reference edges, g half the change of the metric.
  Eigen::Matrix2d edges;
  edges << r.corner.col(1) - r.corner.col(0), r.corner.col(2) - r.corner.col(0);
  const Eigen::Matrix2d inverse = edges.inverse();
  const Eigen::Matrix2d metric = edges.transpose() * edges;
  const T g11 = 0.5 * (dot(p, p) - metric(0, 0));
  const T g22 = 0.5 * (dot(q, q) - metric(1, 1));
  const T g12 = 0.5 * (dot(p, q) - metric(0, 1));
  const auto component = [&](int i, int j) {
    return T(g11 * (inverse(0, i) * inverse(0, j)) + g22 * (inverse(1, i) * inverse(1, j)) +
             g12 * (inverse(0, i) * inverse(1, j) + inverse(1, i) * inverse(0, j)));
  };
  T work = T(component(0, 0) * resultant(0) + component(1, 1) * resultant(1) +
             component(0, 1) * (2 * resultant(2)));
  for (int i = 0; i < 3; ++i) {
    const std::size_t j = static_cast<std::size_t>((i + 1) % 3);
    const std::size_t k = static_cast<std::size_t>((i + 2) % 3);
    Vec3<T> edge;
    for (int c = 0; c < 3; ++c) edge(c) = x[k](c) - x[j](c);
    const T beta =
        turn_by_definition<T>(edge, normal, s.state.frames[static_cast<std::size_t>(i)], r.sign(i), u(9 + i));
    const T current_height = twice_area / norm(edge);
    const Eigen::Vector2d nu = r.normal.col(i);
    const Eigen::Vector3d nn(nu.x() * nu.x(), nu.y() * nu.y(), 2 * nu.x() * nu.y());
    const double h = r.height(i);
    work = T(work + (current_height / h * beta - r.initial_turn(i)) * (2 / h * nn.dot(resultant.tail<3>())));
    work = T(work + u(12 + i) * (r.sign(i) * 4 / (3 * h) * nn.dot(resultant.head<3>())));
  }
  return work;
}

TEST_P(TriangleDerivatives, AgreeWithAutomaticDifferentiationOfTheDefinitions) {
  TriangleSampler sampler(GetParam());
  const TriangleSample s = sampler.sample();
  const Eigen::Matrix<double, 6, 1> resultant = sampler.matrix<6, 1>(1);
  const TriangleVector at = unknowns(s.state);
  Eigen::Matrix<Second, kTriangleUnknowns, 1> u;
  for (int i = 0; i < kTriangleUnknowns; ++i) {
    u(i).value() = First(at(i), kTriangleUnknowns, i);
    u(i).derivatives().setConstant(First(0.0, TriangleVector::Zero()));
    u(i).derivatives()(i).value() = 1;
  }

  const Second work = work_by_definition<Second>(s, u, resultant);

  const TriangleStrain strain = triangle_strain(s.reference, s.state);
  const TriangleVector force = strain.gradient.transpose() * resultant;
  const TriangleMatrix stiffness = geometric_stiffness(s.reference, s.state, resultant);
  TriangleMatrix second;
  for (int i = 0; i < kTriangleUnknowns; ++i) second.row(i) = work.derivatives()(i).derivatives().transpose();
  EXPECT_NEAR(strain.value.dot(resultant), work.value().value(), 1e-12);
  EXPECT_LT(relative_difference(force, work.value().derivatives()), 1e-12);
  EXPECT_LT(relative_difference(stiffness, second), 1e-11);
}

}  // namespace
