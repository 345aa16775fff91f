#include "tests/verification/ring_flange.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/assembly/sheet_fields.hpp"
#include "solver/assessment/edge_limit.hpp"
#include "solver/assessment/edge_waves.hpp"
#include "solver/assessment/hand_formulas.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/note_keeper.hpp"
#include "tests/verification/ring_tool.hpp"

namespace halftool::test {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kBeyond = 0.2;                       // rad of tool beyond the sheet
constexpr double kNear = 8 * std::numbers::pi / 180;  // rad about an angle: what counts as there
constexpr double kMiddle = 0.5;                       // of a sector: where its edge is read

double web_radius(const RingFlange& setup) {
  return setup.axis_radius + (setup.inward ? setup.web : -setup.web);
}

mesh::OutlinePiece arc(double radius, double from, double to) {
  const auto at = [&](double angle) {
    return Eigen::Vector2d(radius * std::cos(angle), radius * std::sin(angle));
  };
  return {at(from), at(to), Eigen::Vector2d(0, 0), "arc"};
}

mesh::Outline sector(const RingFlange& setup) {
  const double inner = std::min(web_radius(setup), flat_edge_radius(setup));
  const double outer = std::max(web_radius(setup), flat_edge_radius(setup));
  const double half = setup.half_sector;
  mesh::DrawnOutline outline;
  const mesh::OutlinePiece out = arc(outer, -half, half), in = arc(inner, half, -half);
  outline.outer = {out, {out.end, in.start, {}, "end"}, in, {in.end, out.start, {}, "end"}};
  return outline;
}

/// Listens to the waves of the flange's edge.
class WaveKeeper : public NoteKeeper {
 public:
  explicit WaveKeeper(const mesh::Blank& blank) : trace_(blank) {}
  void accepted(const solver::Progress& progress, const solver::SheetFields& fields) override {
    if (progress.phase == solver::Phase::forming || progress.phase == solver::Phase::dwell)
      trace_.add(fields, progress.tool);
  }
  [[nodiscard]] solver::EdgeWaveHistory history() const { return trace_.history(); }

 private:
  solver::EdgeTrace trace_;
};

/// Middle of a triangle in the flat sheet, in plan.
Eigen::Vector2d flat_middle(const mesh::SurfaceMesh& flat, int triangle) {
  Eigen::Vector2d middle = Eigen::Vector2d::Zero();
  for (int i = 0; i < 3; ++i) middle += flat.nodes.row(flat.triangles(triangle, i)).head<2>().transpose() / 3;
  return middle;
}

void read_edge(const RingFlange& setup, const mesh::Blank& blank, const solver::SheetFields& fields,
               RingEdge& result) {
  double count = 0, square = 0, height = 0;
  for (const solver::EdgeStrain& edge : solver::edge_strains(blank, fields)) {
    if (std::abs(flat_middle(blank.mesh, edge.triangle).norm() - flat_edge_radius(setup)) > setup.thickness)
      continue;
    const double angle = std::atan2(edge.at.y(), edge.at.x());
    const double thinning = std::log(fields.thickness(edge.triangle) / setup.thickness);
    result.along.push_back({angle, edge.strain, thinning});
    if (setup.half_sector > 0 && angle > kMiddle * setup.half_sector) continue;
    ++count;
    result.strain += edge.strain;
    square += edge.strain * edge.strain;
    result.thickness_strain += thinning;
    result.contact_pressure += fields.contact_pressure(edge.triangle);
    result.radius += edge.at.head<2>().norm();
    height += edge.at.z();
  }
  if (!(count > 0)) throw std::runtime_error("the flange has no edge");
  for (double* mean :
       {&result.strain, &result.thickness_strain, &result.contact_pressure, &result.radius, &height})
    *mean /= count;
  result.scatter = std::sqrt(std::max(0.0, square / count - result.strain * result.strain));
  result.drop = 0.5 * setup.thickness - height;
  std::sort(result.along.begin(), result.along.end(),
            [](const RingEdgePoint& a, const RingEdgePoint& b) { return a.angle < b.angle; });
}

void read_waves(const WaveKeeper& waves, RingEdge& result) {
  const solver::EdgeWaveHistory history = waves.history();
  result.highest_wave = history.highest.height;
  result.wave_pressure = history.highest.pressure;
  result.waves = history.highest.count;
  result.wave_left = history.left.height;
}

solver::FormedPart press(const RingFlange& setup, solver::IncrementSolver& increments,
                         const mesh::ToolSurface& tool, WaveKeeper& waves, solver::RunRecord& record) {
  solver::PressSpec spec;
  spec.schedule = {{1, setup.pressure}};
  spec.tool_friction = setup.friction;
  spec.normal_stress = setup.normal_stress;
  spec.edges_loaded = setup.edges_loaded;
  return solver::form(increments, tool, spec, waves, record);
}

}  // namespace

double flat_edge_radius(const RingFlange& setup) {
  return setup.axis_radius + (setup.inward ? -setup.overhang : setup.overhang);
}

mesh::ToolSurface flange_tool(const RingFlange& setup) {
  const double reach = setup.half_sector > 0 ? setup.half_sector : kQuarter;
  RingTool shape;
  shape.axis_radius = setup.axis_radius;
  shape.edge_radius = setup.edge_radius;
  shape.turn = setup.turn;
  shape.inward = setup.inward;
  shape.top = setup.web + 2 * setup.thickness;
  shape.wall = 1.5 * setup.overhang;
  shape.from = (setup.half_sector > 0 ? -setup.half_sector : 0) - kBeyond;
  shape.to = reach + kBeyond;
  return ring_tool(shape);
}

mesh::Blank flange_sheet(const RingFlange& setup, const mesh::ToolSurface& tool) {
  mesh::BlankSpec spec;
  spec.thickness = setup.thickness;
  spec.symmetric_y = true;
  if (setup.half_sector > 0) {
    spec.outline = sector(setup);
  } else {
    spec.symmetric_x = true;
    spec.outline = mesh::CircleOutline{std::max(web_radius(setup), flat_edge_radius(setup))};
    spec.holes = {{{0, 0}, std::min(web_radius(setup), flat_edge_radius(setup))}};
  }
  mesh::BlankMeshSpec mesh_spec;
  mesh_spec.elements_per_bend = setup.elements_per_bend;
  return mesh::make_blank(spec, mesh_spec, tool);
}

RingEdge press_ring(const RingFlange& setup) {
  const mesh::ToolSurface tool = flange_tool(setup);
  const mesh::Blank blank = flange_sheet(setup, tool);
  solver::SolverSettings settings;
  settings.threads = 1;
  const solver::SheetModel model = solver::make_model(blank, setup.material, settings.layers, true);
  WaveKeeper waves(blank);
  solver::RunRecord record;
  solver::IncrementSolver increments(model, settings, record);
  RingEdge result;
  result.triangles = model.n_triangles();
  try {
    const solver::FormedPart formed = press(setup, increments, tool, waves, record);
    read_edge(setup, blank, solver::sheet_fields(model, formed.state, &tool, setup.normal_stress), result);
  } catch (const solver::SolveError& error) {
    result.broken_off = error.what();
  }
  read_waves(waves, result);
  result.iterations = record.iterations;
  result.rests = waves.notes.empty();
  return result;
}

double thickness_ratio_at(const RingEdge& edge, double angle) {
  double thickness = 0, along = 0;
  for (const RingEdgePoint& point : edge.along) {
    if (std::abs(point.angle - angle) > kNear) continue;
    thickness += point.thickness_strain;
    along += point.strain;
  }
  return thickness / along;
}

double edge_strain_on_wall(const RingFlange& setup) {
  const double side = setup.inward ? -1 : 1;
  const double wall = setup.axis_radius + side * setup.edge_radius;
  double strain = 0;
  for (int i = 0; i < 50; ++i)
    strain =
        std::log((wall + side * 0.5 * setup.thickness * std::exp(-0.5 * strain)) / flat_edge_radius(setup));
  return strain;
}

double edge_strain_by_hand(const RingFlange& setup) {
  solver::CurvedFlange flange;
  flange.axis_radius = setup.axis_radius;
  flange.inward = setup.inward;
  flange.overhang = setup.overhang;
  flange.middle_radius = setup.edge_radius + 0.5 * setup.thickness;
  flange.turn = setup.turn;
  return solver::flange_edge_strain(flange);
}

}  // namespace halftool::test
