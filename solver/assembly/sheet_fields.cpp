#include "solver/assembly/sheet_fields.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace halftool::solver {
namespace {

// Principal values of a plane tensor [11, 22, 2*12], larger first.
Eigen::RowVector2d principal(const Eigen::Vector3d& strain) {
  const double mean = 0.5 * (strain(0) + strain(1));
  const double radius = std::hypot(0.5 * (strain(0) - strain(1)), 0.5 * strain(2));
  return {mean + radius, mean - radius};
}

void resize(SheetFields& fields, int n) {
  for (Eigen::VectorXd* field :
       {&fields.thickness, &fields.thinning, &fields.plastic_mid, &fields.plastic_outer,
        &fields.plastic_inner, &fields.von_mises_outer, &fields.von_mises_inner, &fields.fluid_pressure,
        &fields.contact_pressure, &fields.gap, &fields.limit_share})
    field->setZero(n);
  for (Eigen::MatrixX2d* field :
       {&fields.strain_mid, &fields.stress_mid, &fields.strain_outer, &fields.strain_inner})
    field->setZero(n, 2);
  fields.strain_mid_axes.setZero(n, 3);
}

void sample_triangle(const SheetModel& model, const SheetState& state, bool normal_stress, int t,
                     SheetFields& fields) {
  const TriangleState unknowns = triangle_state(model, state.place, state.frames, t);
  const TriangleStrain strain = triangle_strain(model.references[t], unknowns);
  const SectionStrain section_strain{strain.value.head<3>(), strain.value.tail<3>()};
  const SectionFrozen frozen = section_frozen(model, state, t, state.pressure, normal_stress);
  const std::ptrdiff_t first = static_cast<std::ptrdiff_t>(t) * model.section.n_points();
  const auto sample = [&](double zeta) {
    return model.section.sample(section_strain, frozen, state.points.data() + first, zeta,
                                state.history.data() + first * model.section.n_history());
  };
  const SectionPoint mid = sample(0);
  const SectionPoint outer = sample(0.5);
  const SectionPoint inner = sample(-0.5);
  fields.strain_mid.row(t) = principal(mid.strain);
  fields.strain_mid_axes.row(t) = mid.strain;
  fields.stress_mid.row(t) =
      principal({mid.stress[0], mid.stress[1], 2 * mid.stress[2]}).array() - mid.normal_stress;
  fields.strain_outer.row(t) = principal(outer.strain);
  fields.strain_inner.row(t) = principal(inner.strain);
  fields.plastic_mid(t) = mid.equivalent_plastic_strain;
  fields.plastic_outer(t) = outer.equivalent_plastic_strain;
  fields.plastic_inner(t) = inner.equivalent_plastic_strain;
  fields.von_mises_outer(t) = outer.von_mises;
  fields.von_mises_inner(t) = inner.von_mises;
}

double gap_at_middle(const TriangleMemory& memory, const mesh::ToolSurface& tool) {
  const auto at = tool.nearest(memory.middle, std::numeric_limits<double>::infinity(), memory.tool_facet);
  return at ? at->gap - 0.5 * memory.thickness : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

SheetFields sheet_fields(const SheetModel& model, const SheetState& state, const mesh::ToolSurface* tool,
                         bool normal_stress) {
  SheetFields fields;
  fields.triangles = model.blank.mesh.triangles;
  fields.pressure = state.pressure;
  fields.positions = state.place.positions;
  fields.displacement = state.place.positions - model.blank.mesh.nodes;
  resize(fields, model.n_triangles());
  for (int t = 0; t < model.n_triangles(); ++t) {
    fields.thickness(t) = state.memory[t].thickness;
    fields.thinning(t) = 1 - state.memory[t].thickness / model.blank.thickness;
    fields.fluid_pressure(t) = state.memory[t].fluid_share * state.pressure;
    fields.contact_pressure(t) = state.memory[t].contact_pressure;
    sample_triangle(model, state, normal_stress, t, fields);
    fields.gap(t) = tool ? gap_at_middle(state.memory[t], *tool) : std::numeric_limits<double>::quiet_NaN();
  }
  return fields;
}

double worst_thinning(const SheetState& state) {
  double worst = 0;
  for (const TriangleMemory& memory : state.memory)
    worst = std::max(worst, 1 - std::exp(memory.thickness_strain));
  return worst;
}

}  // namespace halftool::solver
