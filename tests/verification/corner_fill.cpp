#include "tests/verification/corner_fill.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/stepping/forming.hpp"
#include "tests/support/blank_of.hpp"
#include "tests/support/loaded_sheet.hpp"
#include "tests/support/meshes.hpp"
#include "tests/support/note_keeper.hpp"
#include "tests/support/tool_meshes.hpp"

namespace halftool::test {
namespace {

constexpr double kQuarter = std::numbers::pi / 4;  // the wall's slope
constexpr double kLand = 4;                        // thicknesses of land that the rim is held on
constexpr double kBeyond = 5;                      // wall below the corner and land beyond the rim [mm]
constexpr double kWallShare = 0.15;  // of the half width, about its middle: what counts as the wall
constexpr double kFitted = 0.35;     // rad from the bottom of the corner: what the circle is fitted to

/// Wall from the corner at (0, -half width), lip, land at z = 0: point and outward normal at a length along
/// it from where the wall meets the lip.
struct Profile {
  explicit Profile(const CornerFill& s)
      : lip(s.lip_radius), start(s.half_width, 0), wall(s.half_width * std::numbers::sqrt2) {
    const double tangent = lip * std::tan(0.5 * kQuarter);
    wall -= tangent;
    centre = {s.half_width + tangent, -lip};
  }
  double lip;
  Eigen::Vector2d start;
  double wall;  // its length below the lip
  Eigen::Vector2d centre;

  [[nodiscard]] halftool::testing::SurfacePoint at(double length, double y) const {
    const double angle = std::clamp(length / lip, 0.0, kQuarter);
    const Eigen::Vector2d normal(-std::sin(kQuarter - angle), std::cos(kQuarter - angle));
    const Eigen::Vector2d along(normal.y(), -normal.x());
    const Eigen::Vector2d place = centre + lip * normal + (length - lip * angle) * along;
    return {{place.x(), y, place.y()}, {normal.x(), 0, normal.y()}};
  }
};

mesh::ToolSurface groove(const CornerFill& setup, double width) {
  const Profile profile(setup);
  const double arc = setup.lip_radius * kQuarter;
  const double land = kLand * setup.thickness + kBeyond + profile.centre.x();
  constexpr int kWall = 10, kLip = 12, kFlat = 4;
  const auto length = [&](double u) {  // grid lines on both ends of the lip
    const double i = u * (kWall + kLip + kFlat);
    if (i <= kWall) return (profile.wall + kBeyond) * (i / kWall - 1);
    if (i <= kWall + kLip) return arc * (i - kWall) / kLip;
    return arc + land * (i - kWall - kLip) / kFlat;
  };
  return halftool::testing::tool_over_square(kWall + kLip + kFlat, 2, 0, [&](double u, double v) {
    return profile.at(length(u), (v * 3 - 1) * width);
  });
}

mesh::Blank make_sheet(const CornerFill& setup, double& width) {
  const double length = Profile(setup).centre.x() + kLand * setup.thickness;
  const int n_along = static_cast<int>(std::lround(length / setup.edge_length));
  width = 2 * length / n_along;
  mesh::SurfaceMesh sheet = rectangle(length, width, n_along, 2, Disorder{setup.seed});
  sheet.nodes.col(2).array() += 0.5 * setup.thickness;
  mesh::Blank blank = blank_of(sheet, setup.thickness);
  clamp_border(blank, [&](int node) { return blank.mesh.nodes(node, 0) > length - 1e-9; });
  mark_border(blank, 0, 0, mesh::EdgeKind::symmetry_x);
  mark_border(blank, 1, 0, mesh::EdgeKind::symmetry_y);
  mark_border(blank, 1, width, mesh::EdgeKind::symmetry_y);
  return blank;
}

/// Reads the corner from each accepted state of the pressing.
class CornerReader : public NoteKeeper {
 public:
  CornerReader(const CornerFill& setup, const mesh::Blank& blank) : setup_(setup), mesh_(blank.mesh) {}

  void accepted(const solver::Progress& progress, const solver::SheetFields& fields) override {
    if (progress.phase != solver::Phase::forming) return;
    CornerState state;
    state.pressure = fields.pressure;
    state.radius = radius_of(fields.positions);
    if (!(state.radius > 0)) return;
    double area = 0, plastic = 0, thinnest = setup_.thickness, wall_area = 0;
    for (int t = 0; t < mesh_.n_triangles(); ++t) {
      double x = 0;
      for (int i = 0; i < 3; ++i) x += fields.positions(mesh_.triangles(t, i), 0) / 3;
      const double share = mesh_area(t);
      if (std::abs(x / setup_.half_width - 0.5) < kWallShare) {
        wall_area += share;
        state.wall += share * yield_at(fields.plastic_mid(t)) * fields.thickness(t);
      }
      if (x > kFitted * state.radius) continue;
      area += share;
      state.thickness += share * fields.thickness(t);
      plastic += share * fields.plastic_mid(t);
      thinnest = std::min(thinnest, fields.thickness(t));
    }
    if (!(area > 0) || !(wall_area > 0)) return;
    state.thickness /= area;
    state.thinnest = thinnest / state.thickness;
    state.yield = yield_at(plastic / area);
    state.wall /= wall_area;
    states.push_back(state);
  }

  std::vector<CornerState> states;

 private:
  static double yield_at(double plastic) {
    return 2 / std::sqrt(3.0) * solver::flow_stress(corner_metal().hardening, plastic).stress;
  }
  [[nodiscard]] double mesh_area(int t) const {
    const Eigen::Vector3d a = mesh_.nodes.row(mesh_.triangles(t, 0));
    const Eigen::Vector3d b = mesh_.nodes.row(mesh_.triangles(t, 1));
    const Eigen::Vector3d c = mesh_.nodes.row(mesh_.triangles(t, 2));
    return 0.5 * (b - a).cross(c - a).norm();
  }

  /// Circle about a centre on x = 0 through the nodes near the bottom, least squares: x^2 + z^2 = 2 z c + d.
  [[nodiscard]] double radius_of(const mesh::Points& positions) const {
    double radius = setup_.half_width;
    for (int repeat = 0; repeat < 20; ++repeat) {
      Eigen::Matrix2d normal = Eigen::Matrix2d::Zero();
      Eigen::Vector2d right = Eigen::Vector2d::Zero();
      const double bottom = positions.col(2).minCoeff();
      int count = 0;
      for (Eigen::Index node = 0; node < positions.rows(); ++node) {
        if (positions(node, 0) > kFitted * radius) continue;
        const double x = positions(node, 0), z = positions(node, 2) - bottom;
        const Eigen::Vector2d row(2 * z, 1);
        normal += row * row.transpose();
        right += row * (x * x + z * z);
        ++count;
      }
      if (count < 6) return 0;
      const Eigen::Vector2d fit = normal.ldlt().solve(right);
      radius = 0.5 * (radius + std::sqrt(fit(0) * fit(0) + fit(1)));
    }
    return radius;
  }

  CornerFill setup_;
  const mesh::SurfaceMesh& mesh_;
};

}  // namespace

solver::SheetMaterial corner_metal() {
  return {"", "", "", 100000, 0.33, solver::SwiftHardening{500, 0.02, 0.45}};
}

CornerPath fill_corner(const CornerFill& setup) {
  double width = 0;
  const mesh::Blank blank = make_sheet(setup, width);
  const mesh::ToolSurface tool = groove(setup, width);
  solver::SolverSettings settings;
  settings.threads = 1;
  solver::SheetModel model = solver::make_model(blank, corner_metal(), settings.layers, true);
  model.smallest_pad_radius = setup.smallest_pad_radius;
  solver::PressSpec press;
  press.schedule = {{1, setup.pressure}};
  press.tool_friction = 0;
  press.normal_stress = setup.normal_stress;
  CornerReader reader(setup, blank);
  solver::RunRecord record;
  solver::IncrementSolver increments(model, settings, record);
  std::string broken_off;
  try {
    solver::form(increments, tool, press, reader, record);
  } catch (const solver::SolveError& error) {
    broken_off = error.what();
  }
  return {reader.states, broken_off};
}

double solid_pressure(const CornerState& state) {
  return state.yield *
         std::log((state.radius + 0.5 * state.thickness) / (state.radius - 0.5 * state.thickness));
}

double membrane_pressure(const CornerState& state) {
  return state.yield * state.thickness / state.radius;
}

double inner_face_pressure(const CornerState& state) {
  return state.yield * state.thickness / (state.radius - 0.5 * state.thickness);
}

double wall_pressure(const CornerState& state) {
  return state.wall / (state.radius + 0.5 * state.thickness);
}

}  // namespace halftool::test
