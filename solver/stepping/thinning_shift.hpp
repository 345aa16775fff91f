#pragma once
#include <Eigen/Core>

#include "solver/assembly/sheet_model.hpp"
#include "solver/state.hpp"

namespace halftool::solver {

/// How the middle of the sheet moves when a sheet that touches the tool is `now` thinner than `before`: by
/// half the change of thickness along the sheet's normal, the mean over a node's touching triangles. Contact
/// holds the thickness fixed within an increment and takes over the new one at its end; a place that was in
/// contact then stands off the tool by so much.
/// @return (equations.count), zero at the turns and bows and where nothing touches
Eigen::VectorXd thinning_shift(const SheetModel& model, const SheetState& before, const SheetState& now);

}  // namespace halftool::solver
