#include "solver/stepping/contact_set.hpp"

namespace halftool::solver {

ContactSet::ContactSet(const Balance& balance, const SheetModel& model, const SparsityPattern& pattern)
    : balance_(balance),
      model_(model),
      pattern_(pattern),
      out_of_balance_(balance.out_of_balance),
      stiffness_(balance.stiffness) {
  touching_.reserve(balance.near.size());
  for (const NearContact& point : balance.near) touching_.push_back(point.gap < 0);
}

int ContactSet::follow(const Eigen::VectorXd& step) {
  int changed = 0;
  for (std::size_t i = 0; i < touching_.size(); ++i) {
    const NearContact& point = balance_.near[i];
    const bool touches = touches_after(point, step);
    if (touches == static_cast<bool>(touching_[i])) continue;
    touching_[i] = touches;
    add(point, touches ? 1 : -1);
    changed += 1;
  }
  return changed;
}

bool ContactSet::touches_after(const NearContact& point, const Eigen::VectorXd& step) const {
  const auto equations = model_.triangle_equations.row(point.triangle);
  Eigen::Vector3d motion = Eigen::Vector3d::Zero();
  for (int i = 0; i < kTriangleUnknowns; ++i)
    if (equations(i) >= 0) motion += step(equations(i)) * point.gradient.col(i);
  return point.gap + point.normal.dot(motion) < 0;
}

void ContactSet::add(const NearContact& point, double sign) {
  const auto equations = model_.triangle_equations.row(point.triangle);
  const TriangleVector force = sign * point.gradient.transpose() * point.force;
  for (int i = 0; i < kTriangleUnknowns; ++i)
    if (equations(i) >= 0) out_of_balance_(equations(i)) -= force(i);
  const TriangleMatrix stiffness = sign * point.gradient.transpose() * point.stiffness * point.gradient;
  pattern_.scatter(point.triangle, stiffness, stiffness_);
}

}  // namespace halftool::solver
