// Cost of the nearest point on the smooth tool, for points as a pressed sheet has them: close to the tool,
// one after the other along the sheet. Time is per query; counter facets.
#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

#include "mesh/tool_surface.hpp"

namespace {

using namespace halftool::mesh;
using Eigen::Vector3d;

ToolSurface tool_of(const ToolShape& shape) {
  ToolSpec spec;
  spec.shape = shape;
  return make_tool(spec);
}

void query(benchmark::State& state, const ToolSurface& tool, const std::vector<Vector3d>& points,
           double within) {
  double sum = 0;
  for (auto _ : state) {
    for (const auto& x : points) {
      const auto point = tool.nearest(x, within);
      if (point) sum += point->gap;
    }
  }
  benchmark::DoNotOptimize(sum);
  state.counters["facets"] = tool.mesh().n_triangles();
  state.counters["per_query"] =
      benchmark::Counter(static_cast<double>(state.iterations()) * static_cast<double>(points.size()),
                         benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

/// Points wound around the edge radius of a straight block, 0.8 mm off.
void over_edge_radius(benchmark::State& state) {
  const ToolSurface tool = tool_of(StraightBlock{150, 60, 35, 3});
  std::vector<Vector3d> points;
  for (int k = 0; k < 10000; ++k) {
    const double turn = 1.5 * std::fmod(k * 0.01, 1.0);
    points.emplace_back(72 + 3.8 * std::sin(turn), 25 * std::sin(k * 6e-4), 32 + 3.8 * std::cos(turn));
  }
  query(state, tool, points, 2);
}
BENCHMARK(over_edge_radius)->Unit(benchmark::kMillisecond);

/// Points over the flat top of the block.
void over_flat_top(benchmark::State& state) {
  const ToolSurface tool = tool_of(StraightBlock{150, 60, 35, 3});
  std::vector<Vector3d> points;
  for (int k = 0; k < 10000; ++k) points.emplace_back(65 * std::sin(k * 1e-3), 25 * std::sin(k * 0.1), 35.5);
  query(state, tool, points, 2);
}
BENCHMARK(over_flat_top)->Unit(benchmark::kMillisecond);

/// Points around the lip of a round cavity (torus).
void over_cavity_lip(benchmark::State& state) {
  const ToolSurface tool = tool_of(RoundCavity{50, 6, 30, 90});
  std::vector<Vector3d> points;
  for (int k = 0; k < 10000; ++k) {
    const double turn = 1.5 * std::fmod(k * 0.01, 1.0), ring = 3 * std::sin(k * 3e-4);
    const double r = 56 - 6.5 * std::sin(turn);
    points.emplace_back(r * std::cos(ring), r * std::sin(ring), -6 + 6.5 * std::cos(turn));
  }
  query(state, tool, points, 2);
}
BENCHMARK(over_cavity_lip)->Unit(benchmark::kMillisecond);

/// Points in free flight, where nothing lies within reach: what a sheet costs before it has closed.
void out_of_reach(benchmark::State& state) {
  const ToolSurface tool = tool_of(StraightBlock{150, 60, 35, 3});
  std::vector<Vector3d> points;
  for (int k = 0; k < 10000; ++k)
    points.emplace_back(85 + 10 * std::sin(k * 0.01), 25 * std::sin(k * 0.1), 25);
  query(state, tool, points, 2);
}
BENCHMARK(out_of_reach)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
