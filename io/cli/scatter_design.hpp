#pragma once
#include <vector>

#include "io/case/variants.hpp"
#include "io/results/effect_table.hpp"

namespace halftool::io {

/// The design that the scatter of a case asks for; without factors where none is stated.
TwoLevelDesign scatter_design(const Case& job);

/// The case in the middle, then at the ends of its scatter, in the order of the design.
std::vector<CaseVariant> scatter_variants(const Case& job, const TwoLevelDesign& design);

}  // namespace halftool::io
