#pragma once
#include "solver/assembly/balance.hpp"

namespace halftool::solver {

/// Adds the tool's push on nodes that dip into it while every triangle around them touches it.
///
/// Contact acts at the middles of the triangles, one condition for each. It leaves the nodes between them
/// free, held by bending alone: where that yields, on the row that lands last, a node could sink into the
/// tool and its neighbour rise while all middles stay in place. A node may dip by a share of the thickness
/// and by the rise of a triangle's chord over the tool's curvature; beyond, it is pushed back as the middles
/// are, without friction. The edge of a sheet that lands tip first is left alone.
/// @param committed  the last accepted state: touching, thickness, area and allowance are read there, so that
///                   they stand still within an increment
/// @param sum        [inout] out-of-balance force, stiffness and the tool's resultant
void add_node_stops(const SheetModel& model, const SparsityPattern& pattern, const SheetState& committed,
                    const SheetPlace& trial, const Loading& loading, bool want_stiffness, int threads,
                    Balance& sum);

}  // namespace halftool::solver
