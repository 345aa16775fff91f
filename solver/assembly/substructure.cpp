#include "solver/assembly/substructure.hpp"

#include <utility>

// LAPACK (Anderson and others 1999); no C header of it is sure to be there.
// NOLINTNEXTLINE(readability-identifier-naming): its own name
extern "C" void dlauum_(const char* triangle, const int* n, double* a, const int* lda, int* info);

namespace halftool::solver {
namespace {

/// Rows of one part and of what it touches of the interface, in the order of the whole.
std::vector<int> rows_with_interface(const SparsityPattern& pattern, const std::vector<int>& part_of,
                                     int part) {
  std::vector<char> taken(pattern.n_equations(), 0);
  for (int column = 0; column < pattern.n_equations(); ++column)
    for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k)
      if (const int row = pattern.rows()[k]; part_of[column] == part || part_of[row] == part)
        taken[column] = taken[row] = 1;
  std::vector<int> rows;
  for (int i = 0; i < pattern.n_equations(); ++i)
    if (taken[i]) rows.push_back(i);
  return rows;
}

/// The upper triangle of U U^T over U.
void square(Eigen::MatrixXd& upper) {
  const int n = static_cast<int>(upper.rows());
  int info = 0;
  if (n > 0) dlauum_("U", &n, upper.data(), &n, &info);
}

/// (n_rows) local row eliminated first, second, ...
std::vector<int> restricted_order(const std::vector<int>& order, const std::vector<int>& local) {
  std::vector<int> result;
  for (const int equation : order)
    if (local[equation] >= 0) result.push_back(local[equation]);
  return result;
}

}  // namespace

Substructure::Substructure(const SparsityPattern& pattern, const std::vector<int>& order,
                           const std::vector<int>& part_of, int part, const std::vector<int>& interface_place)
    : rows_(rows_with_interface(pattern, part_of, part)), place_(rows_.size(), -1) {
  std::vector<int> local_order = restricted_order(order, places_in(rows_, pattern.n_equations()));
  for (auto i = local_order.rbegin(); i != local_order.rend() && interface_place[rows_[*i]] >= 0; ++i) {
    place_[*i] = static_cast<int>(touched_.size());
    touched_.push_back(interface_place[rows_[*i]]);
  }
  factor_ = std::make_unique<SupernodalFactor>(restricted(pattern, rows_), std::move(local_order));
}

FactorOutcome Substructure::factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
  FactorOutcome outcome = factor_->factorise(values);
  if (!outcome.ok) return outcome;
  upper_.setZero(touched_.size(), touched_.size());
  factor_->last_block(place_, upper_);
  share_ = upper_;
  square(share_);
  return outcome;
}

void Substructure::add_share(Eigen::MatrixXd& interface) const {
  for (Eigen::Index j = 0; j < share_.cols(); ++j)
    for (Eigen::Index i = 0; i <= j; ++i) interface(touched_[i], touched_[j]) += share_(i, j);
}

void Substructure::forward(const Eigen::Ref<const Eigen::MatrixXd>& rhs) {
  Eigen::MatrixXd local = rhs(rows_, Eigen::all);
  for (size_t i = 0; i < place_.size(); ++i)
    if (place_[i] >= 0) local.row(static_cast<Eigen::Index>(i)).setZero();
  half_solved_ = factor_->forward(local);
  Eigen::MatrixXd left(touched_.size(), rhs.cols());
  for (Eigen::Index k = 0; k < half_solved_.rows(); ++k)
    if (const int place = place_[factor_->eliminated()[k]]; place >= 0) left.row(place) = half_solved_.row(k);
  passed_on_ = upper_.triangularView<Eigen::Upper>() * left;
}

void Substructure::add_passed_on(Eigen::MatrixXd& interface) const {
  interface(touched_, Eigen::all) += passed_on_;
}

void Substructure::backward(const Eigen::MatrixXd& interface, Eigen::Ref<Eigen::MatrixXd> solution) {
  const Eigen::MatrixXd known =
      upper_.transpose().triangularView<Eigen::Lower>() * interface(touched_, Eigen::all);
  for (Eigen::Index k = 0; k < half_solved_.rows(); ++k)
    if (const int place = place_[factor_->eliminated()[k]]; place >= 0)
      half_solved_.row(k) = known.row(place);
  const Eigen::MatrixXd local = factor_->backward(half_solved_);
  for (size_t i = 0; i < rows_.size(); ++i)
    if (place_[i] < 0) solution.row(rows_[i]) = local.row(static_cast<Eigen::Index>(i));
}

}  // namespace halftool::solver
