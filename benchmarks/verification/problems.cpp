#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {

std::vector<Problem> all_problems() {
  return {cantilever_shear(),
          cantilever_moment(),
          slit_ring(),
          pinched_hemisphere(),
          pulled_cylinder(),
          pinched_cylinder(),
          hinged_panel(),
          membrane(),
          scordelis_lo(),
          linear_hemisphere(),
          linear_cylinder(),
          twisted_beam(),
          curved_beam(),
          clamped_plate(),
          membrane_limit(),
          point_paths(),
          cyclic_loading(),
          measured_loops(),
          textbook_plasticity(),
          groove_necking(),
          rate_groove(),
          viscous_groove(),
          measured_limits(),
          squeezed_block(),
          wide_bending(),
          thickness_rules(),
          bulge(),
          elliptical_bulge(),
          corner_fill(),
          normal_stress(),
          capstan(),
          contact_pressure(),
          stretch_bend(),
          flange_springback(),
          flange_width(),
          flange_edge(),
          flange_split(),
          flange_trend(),
          cup_earing()};
}

}  // namespace halftool::verification
