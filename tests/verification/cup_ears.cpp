#include "tests/verification/cup_ears.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/material/hardening.hpp"
#include "solver/material/yield_test.hpp"
#include "solver/stepping/forming.hpp"
#include "tests/support/least_squares.hpp"
#include "tests/support/note_keeper.hpp"
#include "tests/verification/flange_strip.hpp"

namespace halftool::test {
namespace {

constexpr double kQuarter = std::numbers::pi / 2;
constexpr double kDegree = std::numbers::pi / 180;
constexpr double kNear = 6 * kDegree;    // about an angle: what counts of the rim as there
constexpr double kAside = 10 * kDegree;  // the same of the land
constexpr double kBeside = 5;            // about a radius of the land [mm]
constexpr double kLand = 10;             // of the tool beyond the blank [mm]

mesh::Blank round_blank(const EaringCup& setup, const mesh::ToolSurface& tool) {
  mesh::BlankSpec spec;
  spec.outline = mesh::CircleOutline{setup.blank_radius};
  spec.thickness = setup.thickness;
  spec.symmetric_x = spec.symmetric_y = true;
  mesh::BlankMeshSpec mesh_spec;
  mesh_spec.uniform = setup.edge_length;
  return mesh::make_blank(spec, mesh_spec, tool);
}

mesh::ToolSurface cavity(const EaringCup& setup) {
  mesh::ToolSpec spec;
  spec.shape =
      mesh::RoundCavity{setup.opening_radius, setup.entry_radius, setup.depth, setup.blank_radius + kLand};
  return mesh::make_tool(spec);
}

void read_rim(const EaringCup& setup, const mesh::Blank& blank, const mesh::Points& formed, CupRim& rim) {
  for (Eigen::Index n = 0; n < formed.rows(); ++n) {
    const double flat = blank.mesh.nodes.row(n).head<2>().norm(), now = formed.row(n).head<2>().norm();
    if (now > setup.opening_radius) rim.land.emplace_back(std::atan2(formed(n, 1), formed(n, 0)), now, flat);
    if (flat < setup.blank_radius * (1 - 1e-9)) continue;
    const Eigen::Vector3d x = formed.row(n);
    rim.profile.emplace_back(std::atan2(x.y(), x.x()), x.head<2>().norm());
    rim.lift = std::max(rim.lift, x.z() - 0.5 * setup.thickness);
  }
  for (int e = 0; e < blank.edges.n_edges(); ++e) {
    if (blank.edge_kind[e] != mesh::EdgeKind::outer) continue;
    const int a = blank.edges.nodes(e, 0), b = blank.edges.nodes(e, 1);
    const Eigen::Vector3d middle = 0.5 * (formed.row(a) + formed.row(b));
    rim.hoop.emplace_back(std::atan2(middle.y(), middle.x()),
                          std::log((formed.row(a) - formed.row(b)).norm() /
                                   (blank.mesh.nodes.row(a) - blank.mesh.nodes.row(b)).norm()));
  }
  if (rim.profile.size() < 10) throw std::runtime_error("the cup has no rim");
  std::sort(rim.profile.begin(), rim.profile.end(),
            [](const auto& a, const auto& b) { return a.x() < b.x(); });
}

/// Root of an increasing function between two ends; an end where it has none.
template <class Function>
double increasing_root(const Function& f, double low, double high) {
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (f(middle) < 0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// Mean of the values (second) whose angle (first) lies within a reach of one.
double mean_near(const std::vector<Eigen::Vector2d>& points, double angle, double reach) {
  double sum = 0;
  int count = 0;
  for (const Eigen::Vector2d& point : points) {
    if (std::abs(point.x() - angle) > reach) continue;
    sum += point.y();
    ++count;
  }
  if (count == 0) throw std::runtime_error("no rim at the angle");
  return sum / count;
}

}  // namespace

double CupRim::radius_at(double angle) const {
  return mean_near(profile, angle, kNear);
}

double CupRim::hoop_at(double angle) const {
  return mean_near(hoop, angle, kAside);
}

double CupRim::flat_radius_at(double angle, double radius) const {
  std::vector<Eigen::Vector2d> near;
  double now = 0, flat = 0;
  for (const Eigen::Vector3d& node : land) {
    if (std::abs(node.x() - angle) > kAside || std::abs(node.y() - radius) > kBeside) continue;
    near.emplace_back(node.y(), node.z());
    now += node.y();
    flat += node.z();
  }
  if (near.size() < 4) throw std::runtime_error("too few nodes at the end of the land");
  const auto count = static_cast<double>(near.size());
  return flat / count + least_squares_slope(near) * (radius - now / count);
}

double CupRim::largest_at() const {
  double best = 0;
  for (int degrees = 0; degrees <= 90; ++degrees) {
    const double angle = degrees * kDegree;
    if (radius_at(angle) > radius_at(best)) best = angle;
  }
  return best;
}

double CupRim::four_ears() const {
  Eigen::MatrixX3d terms(profile.size(), 3);
  Eigen::VectorXd radius(profile.size());
  for (std::size_t i = 0; i < profile.size(); ++i) {
    const double angle = profile[i].x();
    terms.row(static_cast<Eigen::Index>(i)) << 1, std::cos(4 * angle), std::cos(2 * angle);
    radius(static_cast<Eigen::Index>(i)) = profile[i].y();
  }
  const Eigen::Vector3d fit = terms.colPivHouseholderQr().solve(radius);
  return 2 * fit(1);
}

CupRim press_cup(const EaringCup& setup) {
  const mesh::ToolSurface tool = cavity(setup);
  const mesh::Blank blank = round_blank(setup, tool);
  solver::SheetMaterial metal = sheet_6061_o();
  metal.yield = setup.r;
  solver::SolverSettings settings;
  settings.threads = 1;
  const solver::SheetModel model = solver::make_model(blank, metal, settings.layers, true);
  solver::PressSpec press;
  press.schedule = {{1, setup.pressure}};
  press.tool_friction = 0;
  NoteKeeper monitor;
  solver::RunRecord record;
  solver::IncrementSolver increments(model, settings, record);
  const solver::FormedPart formed = solver::form(increments, tool, press, monitor, record);
  CupRim rim;
  read_rim(setup, blank, formed.state.place.positions, rim);
  rim.iterations = record.iterations;
  rim.rests = monitor.notes.empty();
  return rim;
}

double r_value(const solver::RValues& r, double angle) {
  const double F = r.r0 / (r.r90 * (1 + r.r0)), G = 1 / (1 + r.r0), H = r.r0 / (1 + r.r0);
  const double N = (1 + 2 * r.r45) * (r.r0 + r.r90) / (2 * r.r90 * (1 + r.r0));
  const double s = std::pow(std::sin(angle), 2), c = std::pow(std::cos(angle), 2);
  return (H + (2 * N - F - G - 4 * H) * s * c) / (F * s + G * c);
}

double CupRim::shortening() const {
  double sum = 0;
  for (const Eigen::Vector2d& edge : hoop) sum += std::exp(edge.y());
  return sum / static_cast<double>(hoop.size());
}

double rim_strain(const EaringCup& setup, double angle, double shortening) {
  const solver::FlowCurve curve = solver::flow_curve(sheet_6061_o().hardening);
  // Yield ratio times flow stress over the section's growth; e is the shortening, > 0.
  const auto force = [&](double yield_ratio, double e) {
    const double flow =
        std::visit([&](const auto& of) { return solver::flow_stress(of, yield_ratio * e).stress; }, curve);
    return yield_ratio * flow * std::exp(e);
  };
  const auto strain_under = [&](double carried, double at) {
    const double ratio = solver::tension_test(setup.r, at + kQuarter).ratio;
    return increasing_root([&](double e) { return force(ratio, e) - carried; }, 0, 1);
  };
  const auto mean_over = [&](double from, double to, const auto& value) {
    constexpr int parts = 90;
    double sum = 0;
    for (int i = 0; i < parts; ++i) sum += value(from + (i + 0.5) / parts * (to - from)) / parts;
    return sum;
  };
  const auto shortened = [&](double carried) {
    return mean_over(0, kQuarter, [&](double at) { return std::exp(-strain_under(carried, at)); });
  };
  const double carried =
      increasing_root([&](double of) { return shortening - shortened(of); }, force(1, 0), force(1, 1));
  // The pattern goes on beyond the quarter as its mirror image.
  return -mean_over(angle - kAside, angle + kAside, [&](double at) { return strain_under(carried, at); });
}

double rim_radius(const EaringCup& setup, double angle, double entry, double entry_flat, double uneven) {
  const double r = r_value(setup.r, angle + kQuarter);
  const double power = 1 + uneven * r / (1 + r);
  return std::pow(std::pow(setup.blank_radius, power) + std::pow(entry, power) - std::pow(entry_flat, power),
                  1 / power);
}

}  // namespace halftool::test
