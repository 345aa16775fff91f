#include "solver/assembly/triangle_force.hpp"

#include <Eigen/Geometry>
#include <algorithm>

namespace halftool::solver {
namespace {

using NodeGradient = Eigen::Matrix<double, 3, 9>;

// A point farther inside the tool than this is not seen; motions per increment are kept well below it.
constexpr double kReach = 3.0;  // [mm]

Eigen::Matrix3d cross_matrix(const Eigen::Vector3d& v) {
  Eigen::Matrix3d m;
  m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
  return m;
}

// Area vector (area times unit normal) of the flat triangle and its derivative.
struct AreaVector {
  Eigen::Vector3d value;
  NodeGradient gradient;
};

AreaVector area_vector(const Eigen::Matrix3d& x) {
  AreaVector a;
  a.value = 0.5 * (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0));
  for (int i = 0; i < 3; ++i)
    a.gradient.block<3, 3>(0, 3 * i) = 0.5 * cross_matrix(x.col((i + 2) % 3) - x.col((i + 1) % 3));
  return a;
}

void add_metal(const SheetModel& model, const SectionFrozen& frozen, const SheetState& committed,
               int triangle, const TriangleState& state, const TriangleStrain& strain,
               const TrialMetal& trial, bool want_stiffness, TriangleForce& out) {
  const std::ptrdiff_t first = static_cast<std::ptrdiff_t>(triangle) * model.section.n_points();
  const SectionHistory history{committed.history.data() + first * model.section.n_history(), trial.history};
  const TriangleReference& reference = model.references[triangle];
  SectionResponse response;
  const SectionStrain section_strain{strain.value.head<3>(), strain.value.tail<3>()};
  out.valid = model.section.respond(section_strain, frozen, committed.points.data() + first, trial.points,
                                    response, history);
  if (!out.valid) return;
  out.thickness_strain = response.thickness_strain;
  out.plastic_work = reference.area * response.plastic_work;
  out.out_of_balance += reference.area * strain.gradient.transpose() * response.resultant;
  out.out_of_balance.tail<3>() += model.bow_stiffness[triangle] * state.bow;
  if (!want_stiffness) return;
  out.stiffness += reference.area * strain.gradient.transpose() * response.tangent * strain.gradient;
  out.stiffness += geometric_stiffness(reference, state, reference.area * response.resultant);
  out.stiffness.bottomRightCorner<3, 3>() += model.bow_stiffness[triangle];
}

// Areas of the tool face and of the pad face over that of the middle: a sheet curled towards the pad has the
// larger tool face.
double tool_face(const TriangleMemory& memory) {
  return 1 + 0.5 * memory.thickness * memory.curvature_trace;
}
double pad_face(const TriangleMemory& memory) {
  return 1 - 0.5 * memory.thickness * memory.curvature_trace;
}

// Whether the tool is out of reach for sure: it was far off at the accepted state, and the middle has moved
// by less. Gaps over curved facets may be wrong by some percent far from them.
bool stands_off(const TriangleMemory& memory, double motion, double kept_within) {
  constexpr double kSure = 0.9;
  constexpr double kSpare = 0.05;  // [mm]
  return kSure * memory.tool_gap - motion > 0.5 * memory.thickness + kept_within + kSpare;
}

// Tool against the middle; returns the force on it.
Eigen::Vector3d add_tool(const SheetState& committed, const Loading& loading, int triangle,
                         const MiddlePoint& middle, bool want_stiffness, TriangleForce& out) {
  const TriangleMemory& memory = committed.memory[triangle];
  out.tool_facet = memory.tool_facet;
  const double motion = (middle.position - memory.middle).norm();
  if (stands_off(memory, motion, loading.contact.kept_within)) {
    out.tool_gap = memory.tool_gap - motion;
    return Eigen::Vector3d::Zero();
  }
  const auto at = loading.tool->nearest(middle.position, 0.5 * memory.thickness + kReach, memory.tool_facet);
  if (!at) return Eigen::Vector3d::Zero();
  out.tool_facet = at->facet;
  out.tool_gap = std::max(0.0, at->gap);
  const double weight = memory.area * tool_face(memory);
  const ContactPlace place{at->gap - 0.5 * memory.thickness, at->normal, at->normal_gradient};
  ContactLaw law = loading.contact;
  if (loading.friction_of) law.friction = (*loading.friction_of)(triangle);
  const ContactTraction touch =
      contact_traction(law, place, middle.position - memory.middle, memory.friction);
  out.contact_pressure = touch.pressure;
  out.friction = touch.state;
  out.smallest_gap = std::min(0.0, place.gap);
  out.friction_work = weight * touch.dissipation;
  if (touch.pressure == 0) return Eigen::Vector3d::Zero();
  Eigen::Vector3d force = weight * touch.traction;
  out.tool_force = middle.gradient.transpose() * force;
  if (want_stiffness)
    out.stiffness += middle.gradient.transpose() * (weight * touch.stiffness) * middle.gradient;
  out.out_of_balance -= out.tool_force;
  return force;
}

// Share of the fluid's pressure that the tool carried when the state was accepted.
double share_on_tool(const SheetState& committed, int triangle) {
  if (committed.pressure <= 0) return 0;
  return std::min(1.0, committed.memory[triangle].contact_pressure / committed.pressure);
}

// Gradient of the point where the fluid acts. What the tool carries acts where the tool acts, at the middle
// of the curved element, so that the two cancel but for the spread of the contact pressure over a thickness.
// The rest acts on the flat triangle: it does no work on the turns of the edges, for no membrane force would
// answer it there.
PointGradient fluid_gradient(const MiddlePoint& middle, double on_tool) {
  PointGradient gradient = on_tool * middle.gradient;
  for (int a = 0; a < 3; ++a) gradient.block<3, 3>(0, 3 * a).diagonal().array() += (1 - on_tool) / 3;
  return gradient;
}

// Fluid on the pad face: follows the current area and normal; returns the force that acts at the middle
// point.
Eigen::Vector3d add_fluid(const SheetState& committed, const Loading& loading, int triangle,
                          const AreaVector& area, const MiddlePoint& middle, bool want_stiffness,
                          TriangleForce& out) {
  const TriangleMemory& memory = committed.memory[triangle];
  const double share = memory.fluid_share * pad_face(memory);
  const double on_tool = share_on_tool(committed, triangle);
  const PointGradient gradient = fluid_gradient(middle, on_tool);
  out.pressure_force -= share * gradient.transpose() * area.value;
  if (want_stiffness && loading.pressure != 0) {
    TriangleMatrix turning = TriangleMatrix::Zero();
    turning.leftCols<9>() = loading.pressure * share * gradient.transpose() * area.gradient;
    out.stiffness += 0.5 * (turning + turning.transpose());
  }
  return -on_tool * loading.pressure * share * area.value;
}

// Fluid on the cut edge facing node i: pushes the edge inward over the thickness, its nodes by half each and
// its bow (a parabola, mean 2/3) outward less.
void add_cut_edge(double thickness, const Loading& loading, int i, double sign, const Eigen::Matrix3d& x,
                  const AreaVector& area, bool want_stiffness, TriangleForce& out) {
  const int tail = (i + 1) % 3;
  const int head = (i + 2) % 3;
  const double size = area.value.norm();
  const Eigen::Vector3d normal = area.value / size;
  const Eigen::Vector3d along = x.col(head) - x.col(tail);
  const Eigen::Vector3d force = -0.5 * thickness * along.cross(normal);
  out.pressure_force.segment<3>(3 * tail) += force;
  out.pressure_force.segment<3>(3 * head) += force;
  const double on_bow = -2.0 / 3 * thickness * sign;  // per edge length
  out.pressure_force(12 + i) += on_bow * along.norm();
  if (!want_stiffness || loading.pressure == 0) return;
  NodeGradient change = cross_matrix(along) * (Eigen::Matrix3d::Identity() - normal * normal.transpose()) /
                        size * area.gradient;
  change.block<3, 3>(0, 3 * head) -= cross_matrix(normal);
  change.block<3, 3>(0, 3 * tail) += cross_matrix(normal);
  TriangleMatrix turning = TriangleMatrix::Zero();
  turning.block<3, 9>(3 * tail, 0) += 0.5 * thickness * loading.pressure * change;
  turning.block<3, 9>(3 * head, 0) += 0.5 * thickness * loading.pressure * change;
  const Eigen::RowVector3d stretch = -loading.pressure * on_bow * along.normalized().transpose();
  turning.block<1, 3>(12 + i, 3 * head) += stretch;
  turning.block<1, 3>(12 + i, 3 * tail) -= stretch;
  out.stiffness += 0.5 * (turning + turning.transpose());
}

void add_damping(const SheetState& committed, const SheetModel& model, const SheetPlace& trial,
                 const Loading& loading, int triangle, TriangleForce& out) {
  const double weight = loading.damping * model.references[triangle].area / 3;
  for (int i = 0; i < 3; ++i) {
    const int node = model.blank.mesh.triangles(triangle, i);
    const Eigen::Vector3d motion =
        (trial.positions.row(node) - committed.place.positions.row(node)).transpose();
    out.out_of_balance.segment<3>(3 * i) += weight * motion;
    out.stiffness.block<3, 3>(3 * i, 3 * i).diagonal().array() += weight;
    out.damping_work += weight * motion.squaredNorm();
  }
}

bool is_cut_edge(const mesh::Blank& blank, int edge) {
  const mesh::EdgeKind kind = blank.edge_kind[edge];
  return kind == mesh::EdgeKind::hole || kind == mesh::EdgeKind::trimmed ||
         (kind == mesh::EdgeKind::outer && !blank.rim_held);
}

}  // namespace

TriangleForce triangle_force(const SheetModel& model, const SheetState& committed, const SheetPlace& trial,
                             const Loading& loading, int triangle, const TrialMetal& metal,
                             bool want_stiffness) {
  TriangleForce out;
  const TriangleReference& reference = model.references[triangle];
  const TriangleState state = triangle_state(model, trial, committed.frames, triangle);
  const TriangleStrain strain = triangle_strain(reference, state);
  const SectionFrozen frozen =
      section_frozen(model, committed, triangle, loading.normal_pressure, loading.normal_stress);
  add_metal(model, frozen, committed, triangle, state, strain, metal, want_stiffness, out);
  if (!out.valid) return out;

  const AreaVector area = area_vector(state.positions);
  const MiddlePoint middle = middle_point(reference, state, strain);
  Eigen::Vector3d force = add_fluid(committed, loading, triangle, area, middle, want_stiffness, out);
  if (loading.tool) force += add_tool(committed, loading, triangle, middle, want_stiffness, out);
  if (want_stiffness) out.stiffness -= middle_force_stiffness(reference, state, strain, force);
  if (loading.edges_loaded)
    for (int i = 0; i < 3; ++i)
      if (is_cut_edge(model.blank, model.blank.edges.of_triangle(triangle, i)))
        add_cut_edge(committed.memory[triangle].thickness, loading, i, reference.sign(i), state.positions,
                     area, want_stiffness, out);
  out.out_of_balance -= loading.pressure * out.pressure_force;
  if (loading.damping > 0) add_damping(committed, model, trial, loading, triangle, out);
  return out;
}

}  // namespace halftool::solver
