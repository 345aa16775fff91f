#include "tests/verification/borne_contact.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace halftool::test {
namespace {

/// Triangles or nodes of the sheet: the angle they lie at, their area of the mid-surface, the tool's force on
/// them and the force that balance asks for.
struct Places {
  Eigen::VectorXd angle, area, borne, wanted;
  explicit Places(Eigen::Index n)
      : angle(Eigen::VectorXd::Zero(n)),
        area(Eigen::VectorXd::Zero(n)),
        borne(Eigen::VectorXd::Zero(n)),
        wanted(Eigen::VectorXd::Zero(n)) {}
};

/// Force along the arc that a triangle carries, per width, which does the work on stretching at a constant
/// turn per length of the flat sheet: the section's resultants are those at a constant second fundamental
/// form k = stretch times turn [N/mm].
double force_along(const solver::SheetModel& model, const solver::SheetState& state,
                   const solver::Loading& loading, int t) {
  const solver::TriangleStrain strain = solver::triangle_strain(
      model.references[t], solver::triangle_state(model, state.place, state.frames, t));
  std::vector<solver::PointState> points(model.section.n_points());
  solver::SectionResponse response;
  solver::SectionFrozen frozen =
      solver::section_frozen(model, state, t, loading.normal_pressure, loading.normal_stress);
  model.section.respond({strain.value.head<3>(), strain.value.tail<3>()}, frozen,
                        state.points.data() + static_cast<std::ptrdiff_t>(t) * model.section.n_points(),
                        points.data(), response);
  const double stretch = std::sqrt(1 + 2 * strain.value(0));
  return response.resultant(0) * stretch + response.resultant(3) * strain.value(3) / stretch;
}

Eigen::Vector3d outward(const Eigen::Vector3d& x, const CylinderFace& cylinder) {
  return Eigen::Vector3d(x.x(), 0, x.z() - cylinder.axis).normalized();
}

double angle_of(const Eigen::Vector3d& normal) {
  return std::atan2(normal.x(), normal.z());
}

/// Sheet on the tool: by triangles, by nodes, and by nodes with the means of the triangles around them.
struct Read {
  Places triangles, nodes, around;
};

Read read(const solver::SheetModel& model, const solver::SheetState& state, const solver::Loading& loading,
          const CylinderFace& cylinder) {
  const int n_nodes = model.blank.mesh.n_nodes();
  Read all{Places(model.n_triangles()), Places(n_nodes), Places(n_nodes)};
  std::vector<solver::PointState> points(model.section.n_points());
  for (int t = 0; t < model.n_triangles(); ++t) {
    const solver::TriangleMemory& memory = state.memory[t];
    const solver::TriangleForce force =
        solver::triangle_force(model, state, state.place, loading, t, {points.data(), nullptr}, false);
    const Eigen::Vector3d on_it =
        force.tool_force.segment<3>(0) + force.tool_force.segment<3>(3) + force.tool_force.segment<3>(6);
    const Eigen::Vector3d normal = outward(memory.middle, cylinder);
    const double middle_radius = cylinder.radius + 0.5 * memory.thickness;
    all.triangles.angle(t) = angle_of(normal);
    all.triangles.area(t) = memory.area;
    all.triangles.borne(t) = on_it.dot(normal);
    all.triangles.wanted(t) =
        memory.area / middle_radius *
        (loading.pressure * (cylinder.radius + memory.thickness) + force_along(model, state, loading, t));
    for (int i = 0; i < 3; ++i) {
      const int node = model.blank.mesh.triangles(t, i);
      const Eigen::Vector3d there = outward(state.place.positions.row(node), cylinder);
      all.nodes.angle(node) = all.around.angle(node) = angle_of(there);
      all.nodes.borne(node) += force.tool_force.segment<3>(3 * i).dot(there);
      all.around.borne(node) += all.triangles.borne(t) / 3;
      for (Places* places : {&all.nodes, &all.around}) {
        places->area(node) += memory.area / 3;
        places->wanted(node) += all.triangles.wanted(t) / 3;
      }
    }
  }
  return all;
}

double share_between(const Places& places, double from, double to) {
  double borne = 0, wanted = 0;
  for (Eigen::Index i = 0; i < places.angle.size(); ++i) {
    if (places.angle(i) < from || places.angle(i) >= to) continue;
    borne += places.borne(i);
    wanted += places.wanted(i);
  }
  if (wanted == 0) throw std::runtime_error("a part of the arc without nodes");
  return borne / wanted;
}

double scatter_between(const Places& places, double from, double to) {
  double borne = 0, area = 0, square = 0;
  for (Eigen::Index i = 0; i < places.angle.size(); ++i) {
    if (places.angle(i) < from || places.angle(i) >= to) continue;
    borne += places.borne(i);
    area += places.area(i);
    square += places.borne(i) * places.borne(i) / places.area(i);
  }
  return std::sqrt(std::max(0.0, square * area / (borne * borne) - 1));
}

double empty_between(const Places& places, double from, double to) {
  double empty = 0, area = 0;
  for (Eigen::Index i = 0; i < places.angle.size(); ++i) {
    if (places.angle(i) < from || places.angle(i) >= to) continue;
    area += places.area(i);
    if (places.borne(i) == 0) empty += places.area(i);
  }
  return empty / area;
}

std::vector<BornePart> cut(const Read& all, const ArcParts& parts, int count) {
  const double width = (parts.to - parts.from) / count;
  std::vector<BornePart> result;
  for (int i = 0; i < count; ++i) {
    const double from = parts.from + i * width;
    result.push_back({from + 0.5 * width, share_between(all.triangles, from, from + width),
                      share_between(all.nodes, from, from + width),
                      share_between(all.around, from, from + width)});
  }
  return result;
}

}  // namespace

BorneContact borne_contact(const solver::SheetModel& model, const solver::SheetState& state,
                           const solver::Loading& loading, const CylinderFace& cylinder,
                           const ArcParts& parts) {
  const Read all = read(model, state, loading, cylinder);
  const int wide =
      std::max(1, static_cast<int>(std::lround((parts.to - parts.from) / parts.part / parts.joined)));
  BorneContact result;
  result.parts = cut(all, parts, wide * parts.joined);
  result.wide_parts = cut(all, parts, wide);
  result.single = scatter_between(all.triangles, parts.from, parts.to);
  result.around = scatter_between(all.around, parts.from, parts.to);
  result.empty = empty_between(all.triangles, parts.from, parts.to);
  return result;
}

}  // namespace halftool::test
