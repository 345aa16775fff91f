#pragma once
#include "io/case/case.hpp"
#include "io/results/summary.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// Adds the tendency to wrinkle of the formed part and, of all limits that are judged, the one that is used
/// most, with its kind; gives the fields both, face by face.
/// @pre the edge limit has been judged
void add_shares_by_kind(Summary& summary, const Case& job, solver::SheetFields& fields);

}  // namespace halftool::io
