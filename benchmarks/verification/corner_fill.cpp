#include "tests/verification/corner_fill.hpp"

#include <fmt/format.h>

#include <cmath>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

const std::string kBends =
    "the corner bends as it is filled: its curvature is largest in the middle, where the circle is fitted";

struct Mesh {
  double edge_length;
  unsigned seed;
};

std::string mesh_words(const Mesh& mesh) {
  return fmt::format("{:g} mm, irregular, seed {}", mesh.edge_length, mesh.seed);
}

/// Radius at a pressure, on the logarithms; nothing if the run did not get there.
std::optional<test::CornerState> state_at(const std::vector<test::CornerState>& states, double pressure) {
  for (std::size_t i = 1; i < states.size(); ++i) {
    if (states[i].pressure < pressure) continue;
    const test::CornerState &a = states[i - 1], &b = states[i];
    const double share = std::log(pressure / a.pressure) / std::log(b.pressure / a.pressure);
    const auto between = [&](double x, double y) { return x + share * (y - x); };
    return test::CornerState{pressure,
                             between(a.radius, b.radius),
                             between(a.thickness, b.thickness),
                             between(a.yield, b.yield),
                             between(a.thinnest, b.thinnest),
                             between(a.wall, b.wall)};
  }
  return std::nullopt;
}

void add_rows(const Mesh& mesh, bool normal_stress, const test::CornerPath& path, Report& report) {
  const std::string how = normal_stress ? "" : ", s3 = 0";
  for (const double pressure : {20.0, 40.0, 70.0, 100.0}) {
    const auto state = state_at(path.states, pressure);
    if (!state) continue;
    const std::string at =
        fmt::format(" at {:g} MPa, r/t {:.1f}{}", pressure, state->radius / state->thickness, how);
    Row row = normal_stress ? compare("pressure over S t/(r + t/2), S t of the wall" + at, mesh_words(mesh),
                                      pressure / test::wall_pressure(*state), 1)
                            : compare("pressure over S t/(r - t/2)" + at, mesh_words(mesh),
                                      pressure / test::inner_face_pressure(*state), 1);
    row.allowed = 0.02;
    if (!row.holds()) row.remark = kBends;
    report.rows.push_back(row);
    report.rows.push_back(compare("pressure over S ln(ro/ri)" + at, mesh_words(mesh),
                                  pressure / test::solid_pressure(*state), 1));
  }
  if (!path.broken_off.empty() && !report.rows.empty()) report.rows.back().remark += " " + path.broken_off;
}

Report run() {
  Report report;
  Chart chart{"corner_fill", "Corner filling in plane strain", "pressure [MPa]", "radius [mm]", {}};
  const Mesh coarse{0.4, 3}, fine{0.2, 3};
  std::vector<test::CornerPath> meshes;
  for (const bool normal_stress : {true, false})
    for (const Mesh& mesh : {coarse, fine}) {
      test::CornerFill setup;
      setup.pressure = 100;
      setup.edge_length = mesh.edge_length;
      setup.seed = mesh.seed;
      setup.normal_stress = normal_stress;
      const test::CornerPath path = test::fill_corner(setup);
      add_rows(mesh, normal_stress, path, report);
      if (normal_stress) meshes.push_back(path);
      if (mesh.edge_length > fine.edge_length) continue;
      Series line{normal_stress ? "with s3" : "s3 = 0", {}, false};
      for (const test::CornerState& s : path.states)
        if (s.pressure > 15) line.points.emplace_back(s.pressure, s.radius);
      chart.series.push_back(line);
      if (!normal_stress) continue;
      Series wall{"S t/(r + t/2) = p, S t of the wall", {}, true};
      for (const test::CornerState& s : path.states)
        if (s.pressure > 15) wall.points.emplace_back(test::wall_pressure(s), s.radius);
      chart.series.push_back(wall);
    }
  for (const double pressure : {40.0, 70.0})
    if (const auto a = state_at(meshes[0].states, pressure), b = state_at(meshes[1].states, pressure); a && b)
      report.rows.push_back(compare(fmt::format("radius at {:g} MPa [mm], own finer mesh", pressure),
                                    mesh_words(coarse), a->radius, b->radius));
  report.charts.push_back(chart);
  report.discussion =
      "S and thickness are those that the run itself has, so the rows hold the balance and the law of yield "
      "together, not the hardening. The corner bears less than a free thick cylinder of its radius, "
      "S ln(ro/ri): without friction the force along the sheet is one, and the wall, pressed from both "
      "sides, "
      "flows at (S - p) t before the corner does, which then bends but hardly stretches. That gives "
      "p = S t/(r + t/2). With s3 left out the fluid on the smaller inner face asks for p (r - t/2).";
  return report;
}

}  // namespace

Problem corner_fill() {
  return {"corner-fill",
          "Corner of a groove filled by pressure",
          "Corner filling",
          "yield of the wall between two pressures; thick cylinder, rigid-plastic: Hill 1950",
          Evidence::closed_form,
          run};
}

}  // namespace halftool::verification
