// Cost of the through-thickness integration: strain, stress, consistent tangent, resultants. Counter
// per_layer. return_map: points a second; "elastic" stays below yield, the others flow.
#include <benchmark/benchmark.h>

#include <random>
#include <vector>

#include "solver/material/backstress.hpp"
#include "solver/material/kinematic_return.hpp"
#include "solver/material/log_strain.hpp"
#include "solver/material/section.hpp"
#include "solver/material/yld2000_return.hpp"
#include "solver/material/yoshida_uemori.hpp"

namespace {

using namespace halftool::solver;

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

const Yld2000 kDirectional{8, {.919, 1.072, 1.204, 1.109, .992, .892, .957, 1.098}};  // AA6022-T4
SheetMaterial directional_aluminium() {
  SheetMaterial material = aluminium();
  material.yield = kDirectional;
  return material;
}

/// One term and three over Voce's law, the modulus that falls alone, and two surfaces: invented but for the
/// last (DP780, a public data set).
const std::vector<BackstressTerm> kOneTerm = {{3000, 30}};
const std::vector<BackstressTerm> kThreeTerms = {{20000, 400}, {3000, 30}, {100, 0}};
const YoshidaUemoriHardening kTwoSurfaces{337, 620, 202, 190, 34, 500, 0.772};
SheetMaterial with_backstress(SheetMaterial material, const std::vector<BackstressTerm>& terms) {
  material.backstress = terms;
  return material;
}
SheetMaterial with_falling_modulus() {
  SheetMaterial material = aluminium();
  material.falling_modulus = FallingModulus{60000, 50};
  return material;
}
SheetMaterial dual_phase() {
  return {"DP780", "", "", 200000, 0.33, kTwoSurfaces};
}

/// A section bent to R/t = 5 with stretch and shear, then strained a little further: every layer flows.
void section(benchmark::State& state, const SheetMaterial& material, bool elastic) {
  const int n = static_cast<int>(state.range(0));
  const Section sheet(material, n);
  SectionFrozen frozen;
  frozen.initial_thickness = frozen.thickness = 1;
  frozen.outer_pressure = 100;
  frozen.elastic = elastic;
  SectionStrain strain;
  strain.membrane = {0.15, 0.01, 0.03};
  strain.curvature = {0.2, -0.01, 0.02};
  std::vector<PointState> committed(n);
  std::vector<PointState> trial(n);
  SectionResponse response;
  std::vector<double> history(static_cast<std::size_t>(n * sheet.n_history()));
  std::vector<double> trial_history(history);
  const std::vector<double> virgin(history);
  sheet.respond(strain, frozen, std::vector<PointState>(n).data(), committed.data(), response,
                {virgin.data(), history.data()});
  strain.membrane *= 1.05;
  for (auto _ : state) {
    bool done = sheet.respond(strain, frozen, committed.data(), trial.data(), response,
                              {history.data(), trial_history.data()});
    benchmark::DoNotOptimize(done);
    benchmark::DoNotOptimize(response);
  }
  state.counters["per_layer"] = benchmark::Counter(static_cast<double>(state.iterations()) * n,
                                                   benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

void logarithm(benchmark::State& state) {
  LogStrain log;
  Eigen::Vector3d metric(1.1, 0.15, 0.02);
  for (auto _ : state) {
    benchmark::DoNotOptimize(metric);
    bool done = log_strain(metric, log);
    benchmark::DoNotOptimize(done);
    benchmark::DoNotOptimize(log);
  }
}

const PlaneModuli kModuli(206000, 0.3);

template <class Yield, class Curve>
void at_point(benchmark::State& state, const Yield& yield, const Curve& curve, Eigen::Vector3d strain) {
  typename PointOf<Yield>::type point;
  for (auto _ : state) {
    benchmark::DoNotOptimize(strain);
    bool done = update_stress(yield, curve, strain, Eigen::Vector3d(0.01, 0.018, 0.004), 0.04, -50, point);
    benchmark::DoNotOptimize(done);
    benchmark::DoNotOptimize(point);
  }
  state.SetItemsProcessed(state.iterations());
}
template <class Yield, class Curve>
void return_map(benchmark::State& state, const Yield& yield, const Curve& curve) {
  at_point(state, yield, curve, {0.012, 0.02, 0.005});
}
template <class Yield, class Curve>
void elastic_point(benchmark::State& state, const Yield& yield, const Curve& curve) {
  at_point(state, yield, curve, {0.0102, 0.0181, 0.0041});
}

/// Points that flow in every direction from the virgin state, by 1 to 10 times the yield strain.
template <class Yield, class Curve>
void every_direction(benchmark::State& state, const Yield& yield, const Curve& curve) {
  std::mt19937 generator(1);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform(1, 10);
  std::vector<Eigen::Vector3d> strains(512);
  for (Eigen::Vector3d& strain : strains) {
    const Eigen::Vector3d direction =
        Eigen::Vector3d(normal(generator), normal(generator), normal(generator));
    strain = 0.004 * uniform(generator) * direction.normalized();
  }
  typename PointOf<Yield>::type point;
  std::size_t i = 0;
  for (auto _ : state) {
    bool done =
        update_stress(yield, curve, strains[++i % strains.size()], Eigen::Vector3d::Zero(), 0, -50, point);
    benchmark::DoNotOptimize(done);
    benchmark::DoNotOptimize(point);
  }
  state.SetItemsProcessed(state.iterations());
}

/// Points that flow on from a state with backstress.
template <class Yield, class Law>
void return_moving(benchmark::State& state, const Yield& yield, const Law& law) {
  const std::vector<double> committed(16, 3.0);
  std::vector<double> next(16);
  MovingPointStress point;
  double work = 0;
  Eigen::Vector3d strain(0.012, 0.02, 0.005);
  for (auto _ : state) {
    benchmark::DoNotOptimize(strain);
    bool done = update_stress(yield, law, yield.moduli(), strain, Eigen::Vector3d(0.01, 0.018, 0.004), 0.04,
                              -50, committed.data(), next.data(), point, work);
    benchmark::DoNotOptimize(done);
    benchmark::DoNotOptimize(point);
  }
  state.SetItemsProcessed(state.iterations());
}

BENCHMARK_CAPTURE(section, elastic, steel(), true)->Arg(5)->Arg(9)->Arg(25);
BENCHMARK_CAPTURE(section, swift, steel(), false)->Arg(5)->Arg(9)->Arg(25);
BENCHMARK_CAPTURE(section, voce, aluminium(), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_hill, anisotropic_aluminium(), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_yld2000, directional_aluminium(), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_one_term, with_backstress(aluminium(), kOneTerm), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_three_terms, with_backstress(aluminium(), kThreeTerms), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_hill_three_terms, with_backstress(anisotropic_aluminium(), kThreeTerms),
                  false)
    ->Arg(9);
BENCHMARK_CAPTURE(section, voce_yld2000_three_terms, with_backstress(directional_aluminium(), kThreeTerms),
                  false)
    ->Arg(9);
BENCHMARK_CAPTURE(section, voce_falling_modulus, with_falling_modulus(), false)->Arg(9);
BENCHMARK_CAPTURE(section, two_surfaces, dual_phase(), false)->Arg(9);
BENCHMARK(logarithm);

const SwiftHardening kSwift{530, 0.005, 0.2};
const VoceHardening kVoce{140.2, 330.2, 12.4};
const HillPlane kHill(kModuli, HillConstants({0.8, 0.37, 0.54}));
const YldPlane kYld(kModuli, kDirectional);
BENCHMARK_CAPTURE(elastic_point, mises_swift, kModuli, kSwift);
BENCHMARK_CAPTURE(elastic_point, yld2000_swift, kYld, kSwift);
BENCHMARK_CAPTURE(return_map, mises_swift, kModuli, kSwift);
BENCHMARK_CAPTURE(return_map, mises_voce, kModuli, kVoce);
BENCHMARK_CAPTURE(return_map, hill_voce, kHill, kVoce);
BENCHMARK_CAPTURE(return_map, yld2000_swift, kYld, kSwift);
BENCHMARK_CAPTURE(return_map, yld2000_voce, kYld, kVoce);
const BackstressTerms kOne(kOneTerm);
const BackstressTerms kThree(kThreeTerms);
const QuadraticYield kMovingMises(kModuli);
const QuadraticYield kMovingHill(kHill);
const MovingYld2000 kMovingYld(kYld);
BENCHMARK_CAPTURE(return_moving, mises_voce_one_term, kMovingMises, BackstressLaw(kOne, kVoce));
BENCHMARK_CAPTURE(return_moving, mises_voce_three_terms, kMovingMises, BackstressLaw(kThree, kVoce));
BENCHMARK_CAPTURE(return_moving, hill_voce_three_terms, kMovingHill, BackstressLaw(kThree, kVoce));
BENCHMARK_CAPTURE(return_moving, yld2000_voce_three_terms, kMovingYld, BackstressLaw(kThree, kVoce));
BENCHMARK_CAPTURE(return_moving, mises_two_surfaces, kMovingMises, YoshidaUemoriLaw(kTwoSurfaces));
BENCHMARK_CAPTURE(every_direction, mises_swift, kModuli, kSwift);
BENCHMARK_CAPTURE(every_direction, hill_swift, kHill, kSwift);
BENCHMARK_CAPTURE(every_direction, yld2000_swift, kYld, kSwift);

}  // namespace

BENCHMARK_MAIN();
