// Cost of the through-thickness integration: strain, stress, consistent tangent, resultants. Counter
// per_layer. return_map: points a second; "elastic" stays below yield, the others flow.
#include <benchmark/benchmark.h>

#include <random>
#include <vector>

#include "solver/material/log_strain.hpp"
#include "solver/material/section.hpp"
#include "solver/material/yld2000_return.hpp"

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
  sheet.respond(strain, frozen, std::vector<PointState>(n).data(), committed.data(), response);
  strain.membrane *= 1.05;
  for (auto _ : state) {
    bool done = sheet.respond(strain, frozen, committed.data(), trial.data(), response);
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

BENCHMARK_CAPTURE(section, elastic, steel(), true)->Arg(5)->Arg(9)->Arg(25);
BENCHMARK_CAPTURE(section, swift, steel(), false)->Arg(5)->Arg(9)->Arg(25);
BENCHMARK_CAPTURE(section, voce, aluminium(), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_hill, anisotropic_aluminium(), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_yld2000, directional_aluminium(), false)->Arg(9);
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
BENCHMARK_CAPTURE(every_direction, mises_swift, kModuli, kSwift);
BENCHMARK_CAPTURE(every_direction, hill_swift, kHill, kSwift);
BENCHMARK_CAPTURE(every_direction, yld2000_swift, kYld, kSwift);

}  // namespace

BENCHMARK_MAIN();
