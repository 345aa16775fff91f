// Cost of the element without its section: strain and gradient, geometric stiffness, the middle point.
#include <benchmark/benchmark.h>

#include <vector>

#include "tests/support/triangle_samples.hpp"

namespace {

using namespace halftool::solver;
using namespace halftool::test;

// Many different triangles, so that the branch predictor and the cache see what an assembly shows them.
std::vector<TriangleSample> samples() {
  TriangleSampler sampler(1);
  std::vector<TriangleSample> list;
  for (int i = 0; i < 1000; ++i) list.push_back(sampler.sample());
  return list;
}

template <class Work>
void each_triangle(benchmark::State& state, const Work& work) {
  const std::vector<TriangleSample> list = samples();
  std::vector<TriangleStrain> strains;
  for (const TriangleSample& s : list) strains.push_back(triangle_strain(s.reference, s.state));
  std::size_t i = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(work(list[i], strains[i]));
    i = (i + 1) % list.size();
  }
}

void strain(benchmark::State& state) {
  each_triangle(state, [](const TriangleSample& s, const TriangleStrain&) {
    return triangle_strain(s.reference, s.state);
  });
}
void geometric(benchmark::State& state) {
  each_triangle(state, [](const TriangleSample& s, const TriangleStrain& strain) {
    return geometric_stiffness(s.reference, s.state, strain.value);
  });
}
void middle(benchmark::State& state) {
  each_triangle(state, [](const TriangleSample& s, const TriangleStrain& strain) {
    return middle_point(s.reference, s.state, strain);
  });
}
void middle_stiffness(benchmark::State& state) {
  each_triangle(state, [](const TriangleSample& s, const TriangleStrain& strain) {
    return middle_force_stiffness(s.reference, s.state, strain, s.state.positions.col(0));
  });
}

BENCHMARK(strain);
BENCHMARK(geometric);
BENCHMARK(middle);
BENCHMARK(middle_stiffness);

}  // namespace

BENCHMARK_MAIN();
