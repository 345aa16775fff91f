#pragma once
#include <vector>

#include "benchmarks/verification/problem.hpp"

namespace halftool::verification {

// Each in the file of its name, in the order of the results.
Problem cantilever_shear();
Problem cantilever_moment();
Problem slit_ring();
Problem pinched_hemisphere();
Problem pulled_cylinder();
Problem pinched_cylinder();
Problem hinged_panel();
Problem membrane();
Problem scordelis_lo();
Problem linear_hemisphere();
Problem linear_cylinder();
Problem twisted_beam();
Problem curved_beam();
Problem clamped_plate();
Problem membrane_limit();
Problem point_paths();
Problem cyclic_loading();
Problem measured_loops();
Problem groove_necking();
Problem rate_groove();
Problem viscous_groove();
Problem measured_limits();
Problem textbook_plasticity();
Problem squeezed_block();
Problem wide_bending();
Problem thickness_rules();
Problem bulge();
Problem elliptical_bulge();
Problem corner_fill();
Problem normal_stress();
Problem capstan();
Problem contact_pressure();
Problem stretch_bend();
Problem flange_springback();
Problem flange_width();
Problem flange_edge();
Problem flange_split();
Problem flange_trend();
Problem cup_earing();

/// Every problem of the suite.
std::vector<Problem> all_problems();

}  // namespace halftool::verification
