#include "solver/assembly/balance.hpp"

#include <omp.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

#include "solver/contact/pin_force.hpp"

namespace halftool::solver {
namespace {

void add(const TriangleForce& force, int triangle, const SheetModel& model, const SparsityPattern& pattern,
         const Loading& loading, bool want_stiffness, Balance& sum) {
  if (!force.valid) {
    if (sum.valid) sum.failed_triangle = triangle;
    sum.valid = false;
    return;
  }
  const auto equations = model.triangle_equations.row(triangle);
  for (int i = 0; i < kTriangleUnknowns; ++i) {
    if (equations(i) < 0) {
      if (i < 9) sum.held_resultant(i % 3) += force.out_of_balance(i);
      continue;
    }
    sum.out_of_balance(equations(i)) += force.out_of_balance(i);
    sum.pressure_force(equations(i)) += force.pressure_force(i);
  }
  if (want_stiffness) pattern.scatter(triangle, force.stiffness, sum.stiffness);
  for (int i = 0; i < 3; ++i) {
    sum.fluid_resultant += loading.pressure * force.pressure_force.segment<3>(3 * i);
    sum.tool_resultant += force.tool_force.segment<3>(3 * i);
  }
  sum.smallest_gap = std::min(sum.smallest_gap, force.smallest_gap);
  sum.friction_work += force.friction_work;
  sum.plastic_work += force.plastic_work;
  sum.damping_work += force.damping_work;
  sum.memory[triangle].thickness_strain = force.thickness_strain;
  sum.memory[triangle].friction = force.friction;
  sum.memory[triangle].contact_pressure = force.contact_pressure;
  sum.memory[triangle].tool_facet = force.tool_facet;
  sum.memory[triangle].tool_gap = force.tool_gap;
}

// Corner of a triangle that a node is.
int corner_of(const mesh::SurfaceMesh& mesh, int triangle, int node) {
  for (int i = 0; i < 2; ++i)
    if (mesh.triangles(triangle, i) == node) return i;
  return 2;
}

// A pin on one end of an edge of the rim that it holds.
void add_pin(const SheetModel& model, const SparsityPattern& pattern, const mesh::Pin& pin, int edge, int end,
             const SheetPlace& trial, bool want_stiffness, Balance& sum) {
  const int node = model.blank.edges.nodes(edge, end);
  const double stiffness = 0.5 * model.section.material().youngs_modulus * model.blank.thickness;
  const Eigen::Vector2d at = trial.positions.row(node).head<2>();
  const PinForce pushed = pin_force(pin, at, stiffness);
  if (pushed.force.isZero(0)) return;
  const int triangle = model.blank.edges.triangles(edge, 0);
  const int first = 3 * corner_of(model.blank.mesh, triangle, node);
  for (int c = 0; c < 2; ++c) {
    const int equation = model.triangle_equations(triangle, first + c);
    if (equation >= 0) sum.out_of_balance(equation) -= pushed.force(c);
  }
  if (!want_stiffness) return;
  TriangleMatrix matrix = TriangleMatrix::Zero();
  matrix.block<2, 2>(first, first) = pushed.stiffness;
  pattern.scatter(triangle, matrix, sum.stiffness);
}

// Pins stand with the tool; half of their stiffness acts on each of the two edges that meet in a node.
void add_pins(const SheetModel& model, const SparsityPattern& pattern, const SheetPlace& trial,
              bool want_stiffness, Balance& sum) {
  for (const mesh::PinnedRim& rim : model.blank.pins)
    for (const int edge : rim.edges)
      for (int end = 0; end < 2; ++end)
        add_pin(model, pattern, rim.pin, edge, end, trial, want_stiffness, sum);
}

/// Mean of a value of triangles over a thickness around each.
Eigen::VectorXd spread_over(const PressureSpread& spread, const std::vector<TriangleMemory>& memory,
                            const Eigen::VectorXd& values) {
  Eigen::VectorXd area(memory.size());
  for (std::size_t t = 0; t < memory.size(); ++t) area(t) = memory[t].area;
  return (spread * area.cwiseProduct(values).eval()).cwiseQuotient(spread * area);
}

void spread_contact_pressure(const PressureSpread& spread, std::vector<TriangleMemory>& memory) {
  Eigen::VectorXd pressure(memory.size());
  for (std::size_t t = 0; t < memory.size(); ++t) pressure(t) = memory[t].contact_pressure;
  const Eigen::VectorXd mean = spread_over(spread, memory, pressure);
  for (std::size_t t = 0; t < memory.size(); ++t) memory[t].contact_pressure = mean(t);
}

// Largest curvature of the pad face towards the pad, 0 where it is nowhere hollow.
double hollow_of(const SheetModel& model, const SheetState& state, int triangle) {
  const TriangleStrain strain =
      triangle_strain(model.references[triangle], triangle_state(model, state.place, state.frames, triangle));
  Eigen::Matrix2d metric, form;
  metric << 1 + 2 * strain.value(0), strain.value(2), strain.value(2), 1 + 2 * strain.value(1);
  form << strain.value(3), 0.5 * strain.value(5), 0.5 * strain.value(5), strain.value(4);
  const Eigen::Matrix2d turned = metric.inverse() * form;
  const double mean = 0.5 * turned.trace();
  const double curvature = mean + std::sqrt(std::max(0.0, mean * mean - turned.determinant()));
  if (curvature <= 0) return 0;
  const double radius = 1 / curvature - 0.5 * state.memory[triangle].thickness;
  return radius > 0 ? 1 / radius : std::numeric_limits<double>::max();
}

void find_pad_shares(const SheetModel& model, SheetState& state) {
  if (model.smallest_pad_radius <= 0) return;
  Eigen::VectorXd hollow(model.n_triangles());
  for (int t = 0; t < model.n_triangles(); ++t)  // beyond twice the pad's own curvature it counts no more
    hollow(t) = std::min(hollow_of(model, state, t), 2 / model.smallest_pad_radius);
  const Eigen::VectorXd mean = spread_over(model.pressure_spread, state.memory, hollow);
  for (int t = 0; t < model.n_triangles(); ++t)
    state.memory[t].fluid_share = pad_share(mean(t), model.smallest_pad_radius);
}

void refresh_geometry(const SheetModel& model, const SheetState& state, int triangle,
                      TriangleMemory& memory) {
  const TriangleState unknowns = triangle_state(model, state.place, state.frames, triangle);
  const TriangleStrain strain = triangle_strain(model.references[triangle], unknowns);
  Eigen::Matrix2d metric;
  metric << 1 + 2 * strain.value(0), strain.value(2), strain.value(2), 1 + 2 * strain.value(1);
  const Eigen::Matrix2d inverse = metric.inverse();
  memory.inverse_metric = {inverse(0, 0), inverse(1, 1), inverse(0, 1)};
  memory.thickness = model.blank.thickness * std::exp(memory.thickness_strain);
  memory.area = model.references[triangle].area * std::sqrt(metric.determinant());
  memory.curvature_trace =
      inverse(0, 0) * strain.value(3) + inverse(1, 1) * strain.value(4) + inverse(0, 1) * strain.value(5);
  memory.middle = middle_point(model.references[triangle], unknowns, strain).position;
}

void carry_frames(const SheetModel& model, SheetState& state) {
  for (int e = 0; e < model.blank.edges.n_edges(); ++e) {
    const Eigen::Vector3d tail = state.place.positions.row(model.blank.edges.nodes(e, 0));
    const Eigen::Vector3d head = state.place.positions.row(model.blank.edges.nodes(e, 1));
    state.frames[e] = transport(state.frames[e], (head - tail).normalized());
  }
}

}  // namespace

Balance balance(const SheetModel& model, const SparsityPattern& pattern, const SheetState& committed,
                const SheetPlace& trial, const Loading& loading, bool want_stiffness, int threads) {
  // Enough triangles at a time to keep the threads busy, few enough to stay in cache.
  constexpr int kBlock = 512;
  Balance sum;
  sum.valid = true;
  sum.out_of_balance.setZero(model.equations.count);
  sum.pressure_force.setZero(model.equations.count);
  if (want_stiffness) sum.stiffness.setZero(pattern.n_values());
  sum.points.resize(committed.points.size());
  sum.history.resize(committed.history.size());
  sum.memory.resize(committed.memory.size());
  std::vector<TriangleForce> block(kBlock), last_block(kBlock);
  const int layers = model.section.n_points();
  const int remembered = layers * model.section.n_history();
  // One thread adds up a block while the others compute the next, in which it joins them.
  for (int first = 0; first < model.n_triangles() + kBlock && sum.valid; first += kBlock) {
    const int size = std::clamp(model.n_triangles() - first, 0, kBlock), last = first - kBlock;
    const int last_size = first == 0 ? 0 : std::min(kBlock, model.n_triangles() - last);
#pragma omp parallel num_threads(threads)
    {
#pragma omp single nowait
      for (int i = 0; i < last_size; ++i)
        add(last_block[i], last + i, model, pattern, loading, want_stiffness, sum);
#pragma omp for schedule(dynamic, 16)
      for (int i = 0; i < size; ++i)
        block[i] = triangle_force(model, committed, trial, loading, first + i,
                                  {sum.points.data() + static_cast<std::ptrdiff_t>(first + i) * layers,
                                   sum.history.data() + static_cast<std::ptrdiff_t>(first + i) * remembered},
                                  want_stiffness);
    }
    block.swap(last_block);
  }
  if (loading.tool) add_pins(model, pattern, trial, want_stiffness, sum);
  return sum;
}

SheetState accept(const SheetModel& model, const SheetState& committed, const SheetPlace& trial,
                  const Balance& balance, double pressure) {
  SheetState next;
  next.place = trial;
  next.frames = committed.frames;
  next.points = balance.points;
  next.history = balance.history;
  next.memory = balance.memory;
  next.pressure = pressure;
  carry_frames(model, next);
  for (int t = 0; t < model.n_triangles(); ++t) refresh_geometry(model, next, t, next.memory[t]);
  spread_contact_pressure(model.pressure_spread, next.memory);
  find_pad_shares(model, next);
  return next;
}

}  // namespace halftool::solver
