#pragma once
#include <Eigen/Core>

#include "io/results/summary.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// Middle of a triangle's corners [mm].
Eigen::Vector3d centre_of(const solver::SheetFields& fields, Eigen::Index triangle);

/// The largest of values of triangles that are zero or more, and where it stands; empty where none is a
/// number.
Extreme largest(const Eigen::VectorXd& values, const solver::SheetFields& fields);

}  // namespace halftool::io
