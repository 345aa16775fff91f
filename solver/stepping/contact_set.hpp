#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/assembly/balance.hpp"

namespace halftool::solver {

/// The linear balance of one Newton step, with the points of contact that are there at the step's end instead
/// of at its start: a step that ignores what it runs into has to be cut to next to nothing. Points that come
/// to touch under a step act as if they touched all along, points that leave as if they did not, and the step
/// is solved again (primal-dual active set: Hintermueller, Ito and Kunisch 2002).
class ContactSet {
 public:
  /// @param balance  with stiffness; kept by reference
  ContactSet(const Balance& balance, const SheetModel& model, const SparsityPattern& pattern);

  /// Brings the set up to date with a step. @return how many points changed
  int follow(const Eigen::VectorXd& step);

  [[nodiscard]] const Eigen::VectorXd& out_of_balance() const { return out_of_balance_; }
  [[nodiscard]] const Eigen::VectorXd& stiffness() const { return stiffness_; }  ///< values of the pattern

 private:
  [[nodiscard]] bool touches_after(const NearContact& point, const Eigen::VectorXd& step) const;
  void add(const NearContact& point, double sign);

  const Balance& balance_;
  const SheetModel& model_;
  const SparsityPattern& pattern_;
  Eigen::VectorXd out_of_balance_;
  Eigen::VectorXd stiffness_;
  std::vector<char> touching_;  // of balance.near
};

}  // namespace halftool::solver
