// Cost of the through-thickness integration: strain, stress, consistent tangent, resultants. Counter
// per_layer.
#include <benchmark/benchmark.h>

#include <type_traits>
#include <vector>

#include "solver/material/log_strain.hpp"
#include "solver/material/section.hpp"

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
  material.r_values = RValues{0.8, 0.37, 0.54};
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
void return_map(benchmark::State& state, const Yield& yield, const Curve& curve) {
  std::conditional_t<std::is_same_v<Yield, HillPlane>, HillPointStress, PointStress> point;
  Eigen::Vector3d strain(0.012, 0.02, 0.005);
  for (auto _ : state) {
    benchmark::DoNotOptimize(strain);
    bool done = update_stress(yield, curve, strain, Eigen::Vector3d(0.01, 0.018, 0.004), 0.04, -50, point);
    benchmark::DoNotOptimize(done);
    benchmark::DoNotOptimize(point);
  }
}

BENCHMARK_CAPTURE(section, elastic, steel(), true)->Arg(5)->Arg(9)->Arg(25);
BENCHMARK_CAPTURE(section, swift, steel(), false)->Arg(5)->Arg(9)->Arg(25);
BENCHMARK_CAPTURE(section, voce, aluminium(), false)->Arg(9);
BENCHMARK_CAPTURE(section, voce_hill, anisotropic_aluminium(), false)->Arg(9);
BENCHMARK(logarithm);
BENCHMARK_CAPTURE(return_map, swift, kModuli, SwiftHardening{530, 0.005, 0.2});
BENCHMARK_CAPTURE(return_map, voce, kModuli, VoceHardening{140.2, 330.2, 12.4});
BENCHMARK_CAPTURE(return_map, voce_hill, HillPlane(kModuli, HillConstants({0.8, 0.37, 0.54})),
                  VoceHardening{140.2, 330.2, 12.4});

}  // namespace

BENCHMARK_MAIN();
