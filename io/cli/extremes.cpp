#include "io/cli/extremes.hpp"

#include <cmath>

namespace halftool::io {

Eigen::Vector3d centre_of(const solver::SheetFields& fields, Eigen::Index triangle) {
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  for (int i = 0; i < 3; ++i) centre += fields.positions.row(fields.triangles(triangle, i)).transpose() / 3;
  return centre;
}

Extreme largest(const Eigen::VectorXd& values, const solver::SheetFields& fields) {
  // a share that is not judged is not a number
  Eigen::Index at = 0;
  const double value = values.unaryExpr([](double v) { return std::isnan(v) ? -1 : v; }).maxCoeff(&at);
  if (std::isnan(values(at))) return {};
  return {value, centre_of(fields, at)};
}

}  // namespace halftool::io
