#include "tests/verification/drawn_strip.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "mesh/tool_surface.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/driven_sheet.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kTailShare = 0.3;  // of the radius: length of either tail
constexpr double kStrain = 1e-4;    // of the strip under the dead force
constexpr double kYoung = 70000;    // [MPa]
constexpr int kLoadings = 5;        // increments that bring the dead force on
constexpr int kSettlings = 2;
constexpr int kDraws = 40;
constexpr double kDraw = 0.01;         // of the thickness, in one increment: five times the elastic slip
constexpr double kPenetration = 1e-4;  // of the thickness, under the contact pressure T/R

/// Place on the wrapped mid-surface at a length along it from the crown, with the unit tangent there.
struct Along {
  Eigen::Vector3d place, tangent;
};
Along wrapped(const Capstan& setup, double length) {
  const double radius = setup.radius + 0.5 * setup.thickness;
  const double half = 0.5 * setup.wrap;
  const double angle = std::clamp(length / radius, -half, half);
  const Eigen::Vector3d tangent(std::cos(angle), 0, -std::sin(angle));
  const double tail = length - angle * radius;
  return {Eigen::Vector3d(radius * std::sin(angle), 0, radius * std::cos(angle)) + tail * tangent, tangent};
}

mesh::ToolSurface cylinder(const Capstan& setup) {
  mesh::ToolSpec spec;
  spec.shape = mesh::CylinderBlock{setup.radius, setup.radius, setup.radius};
  spec.tray_floor = false;
  spec.facet_angle = 0.05;
  return mesh::make_tool(spec);
}

double strip_length(const Capstan& setup) {
  return setup.radius * (setup.wrap + 2 * kTailShare);
}

mesh::Blank make_strip(const Capstan& setup) {
  const double length = strip_length(setup);
  const int n_along =
      static_cast<int>(std::lround(setup.elements * length / (0.5 * std::numbers::pi * setup.radius)));
  constexpr int kAcross = 2;
  const double width = kAcross * length / n_along;
  const mesh::SurfaceMesh strip =
      mapped(rectangle(length, width, n_along, kAcross, Disorder{setup.seed}),
             [&](const Eigen::Vector3d& x) -> Eigen::Vector3d {
               return wrapped(setup, x.x() - 0.5 * length).place + Eigen::Vector3d(0, x.y(), 0);
             });
  mesh::Blank blank = blank_of(strip, setup.thickness);
  const Along end = wrapped(setup, 0.5 * length);
  clamp_border(blank, [&](int node) {
    return (blank.mesh.nodes.row(node).transpose() - end.place).dot(end.tangent) > -1e-9;
  });
  mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  mark_border(blank, 1, width, mesh::EdgeKind::symmetry_y);
  return blank;
}

struct LoadedStrip {
  Eigen::VectorXd dead;
  solver::ContactLaw contact;
  Eigen::Vector3d tangent;  // along the near tail, outwards
  double force = 0;         // on the width [N]
};

LoadedStrip load_strip(const Capstan& setup, const solver::SheetModel& model) {
  const mesh::Blank& blank = model.blank;
  const double half = 0.5 * strip_length(setup);
  const Along far = wrapped(setup, -half);
  const std::vector<int> end = border_edges(blank, [&](int node) {
    return (blank.mesh.nodes.row(node).transpose() - far.place).dot(far.tangent) < 1e-9;
  });
  const double force = kStrain * kYoung * setup.thickness;  // per width [N/mm]
  const solver::ContactLaw contact{force / setup.radius / (kPenetration * setup.thickness), setup.friction,
                                   0.2 * kDraw * setup.thickness};
  return {edge_force(model, end, -force * far.tangent), contact, wrapped(setup, half).tangent,
          force * blank.mesh.nodes.col(1).maxCoeff()};
}

// The strip under its whole load, held at the other end.
struct PulledStrip {
  explicit PulledStrip(const Capstan& setup)
      : tool(cylinder(setup)),
        blank(make_strip(setup)),
        model(elastic_model(blank, kYoung, 0.3)),
        strip(load_strip(setup, model)),
        sheet(model, tool, strip.contact, strip.force) {
    for (int i = 1; i <= kLoadings; ++i) sheet.go(i * strip.dead / kLoadings);
  }

  mesh::ToolSurface tool;
  mesh::Blank blank;
  solver::SheetModel model;
  LoadedStrip strip;
  DrivenSheet sheet;
};

}  // namespace

double capstan_ratio(const Capstan& setup) {
  PulledStrip pulled(setup);
  const LoadedStrip& strip = pulled.strip;
  DrivenSheet& sheet = pulled.sheet;
  double before = 0, now = 0;
  for (int i = 0; i < kDraws; ++i) {
    before = now;
    sheet.go(strip.dead, kDraw * setup.thickness * strip.tangent);
    now = sheet.held_force().dot(strip.tangent) / strip.force;
  }
  if (std::abs(now / before - 1) > 1e-3) throw std::runtime_error("the strip does not slide throughout");
  return now;
}

BorneContact wrap_contact(const Capstan& setup, const ArcParts& parts) {
  PulledStrip pulled(setup);
  // Contact sees the thickness of the last state, which the first increments still change by a share of the
  // penetration.
  for (int i = 0; i < kSettlings; ++i) pulled.sheet.go(pulled.strip.dead);
  return borne_contact(pulled.model, pulled.sheet.state(), pulled.sheet.loading(), {setup.radius, 0}, parts);
}

}  // namespace halftool::test
