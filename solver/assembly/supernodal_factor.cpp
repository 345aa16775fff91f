#include "solver/assembly/supernodal_factor.hpp"

#include <cholmod.h>
#include <omp.h>

#include <algorithm>
#include <limits>
#include <new>
#include <utility>

extern "C" void openblas_set_num_threads(int);  // no C header of this name is sure to be the right one

namespace halftool::solver {
namespace {

/// The columns of L, taken together where they have the same rows below.
struct Supernodes {
  explicit Supernodes(const cholmod_factor& factor)
      : count(factor.nsuper),
        first_column(static_cast<const int*>(factor.super)),
        rows_start(static_cast<const int*>(factor.pi)),
        values_start(static_cast<const int*>(factor.px)),
        rows(static_cast<const int*>(factor.s)),
        values(static_cast<const double*>(factor.x)) {}

  [[nodiscard]] int n_rows(size_t s) const { return rows_start[s + 1] - rows_start[s]; }
  [[nodiscard]] int n_columns(size_t s) const { return first_column[s + 1] - first_column[s]; }
  /// (n_rows) the rows of a supernode; the first n_columns are its columns.
  [[nodiscard]] const int* rows_of(size_t s) const { return rows + rows_start[s]; }
  /// (n_rows) its column j.
  [[nodiscard]] const double* column(size_t s, int j) const {
    return values + values_start[s] + static_cast<size_t>(j) * n_rows(s);
  }

  size_t count;
  const int *first_column, *rows_start, *values_start, *rows;
  const double* values;
};

/// Smallest ratio of a pivot to the diagonal entry that it came from.
double smallest_pivot_ratio(const cholmod_factor& factor, const LowerColumns& pattern,
                            const Eigen::VectorXd& values) {
  const Supernodes nodes(factor);
  double smallest = std::numeric_limits<double>::infinity();
  for (size_t s = 0; s < nodes.count; ++s)
    for (int j = 0; j < nodes.n_columns(s); ++j) {
      const double root = nodes.column(s, j)[j];
      smallest = std::min(smallest, root * root / values[pattern.column_starts[nodes.first_column[s] + j]]);
    }
  return smallest;
}

/// Keeps the OpenMP regions inside CHOLMOD on this thread during its life: for our sizes they cost two to
/// three times what they save (benchmarks/linear_solve.cpp).
class OneThread {
 public:
  OneThread() : levels_(omp_get_max_active_levels()) { omp_set_max_active_levels(0); }
  ~OneThread() { omp_set_max_active_levels(levels_); }
  OneThread(const OneThread&) = delete;
  OneThread& operator=(const OneThread&) = delete;

 private:
  int levels_;
};

}  // namespace

struct SupernodalFactor::Storage {
  Storage() {
    openblas_set_num_threads(1);  // its threads would stand in the way of those that factors work on
    cholmod_start(&common);
    common.print = 0;
    common.supernodal = CHOLMOD_SUPERNODAL;
    common.final_ll = 1;
    common.quick_return_if_not_posdef = 1;
    common.nmethods = 1;
    matrix.stype = -1;  // lower triangle
    matrix.itype = CHOLMOD_INT;
    matrix.dtype = CHOLMOD_DOUBLE;
    matrix.sorted = matrix.packed = 1;
  }

  /// @param order  row eliminated first, second, ...; none: as the pattern has them
  void analyse(LowerColumns columns, std::vector<int>* order) {
    pattern = std::move(columns);
    matrix.nrow = matrix.ncol = pattern.size();
    matrix.nzmax = pattern.rows.size();
    matrix.p = pattern.column_starts.data();
    matrix.i = pattern.rows.data();
    matrix.x = nullptr;
    matrix.xtype = CHOLMOD_PATTERN;
    common.method[0].ordering = order != nullptr ? CHOLMOD_GIVEN : CHOLMOD_NATURAL;
    common.postorder = order != nullptr;
    cholmod_free_factor(&factor, &common);
    factor = cholmod_analyze_p(&matrix, order != nullptr ? order->data() : nullptr, nullptr, 0, &common);
    if (factor == nullptr) throw std::bad_alloc();
  }

  /// @return (n, any) views the solution until the next call
  Eigen::Map<const Eigen::MatrixXd> solve(int system, const Eigen::Ref<const Eigen::MatrixXd>& rhs) {
    const OneThread one_thread;
    cholmod_dense b = {};
    b.nrow = rhs.rows();
    b.ncol = rhs.cols();
    b.d = rhs.outerStride();
    b.nzmax = b.d * b.ncol;
    b.x = const_cast<double*>(rhs.data());  // read only
    b.xtype = CHOLMOD_REAL;
    b.dtype = CHOLMOD_DOUBLE;
    if (!cholmod_solve2(system, factor, &b, nullptr, &solution, nullptr, &workspace_y, &workspace_e, &common))
      throw std::bad_alloc();
    return {static_cast<const double*>(solution->x), rhs.rows(), rhs.cols()};
  }
  ~Storage() {
    cholmod_free_dense(&workspace_y, &common);
    cholmod_free_dense(&workspace_e, &common);
    cholmod_free_dense(&solution, &common);
    cholmod_free_factor(&factor, &common);
    cholmod_finish(&common);
  }
  Storage(const Storage&) = delete;
  Storage& operator=(const Storage&) = delete;

  LowerColumns pattern;         // rows in their order of elimination
  Eigen::VectorXd values;       // (n_values)
  std::vector<int> eliminated;  // (n)
  cholmod_common common = {};
  cholmod_sparse matrix = {};  // views the pattern and the values
  cholmod_factor* factor = nullptr;
  cholmod_dense *solution = nullptr, *workspace_y = nullptr, *workspace_e = nullptr;
};

SupernodalFactor::SupernodalFactor(const LowerColumns& pattern, std::vector<int> order)
    : storage_(std::make_unique<Storage>()) {
  // The order asked for becomes one that goes along the elimination tree. With rows and columns in that order
  // the library takes the matrix as it is; otherwise it would reorder its values at every factorisation.
  storage_->analyse(pattern, &order);
  const auto* along_the_tree = static_cast<const int*>(storage_->factor->Perm);
  storage_->eliminated.assign(along_the_tree, along_the_tree + pattern.size());
  storage_->analyse(reordered(pattern, storage_->eliminated), nullptr);
}

SupernodalFactor::~SupernodalFactor() = default;
SupernodalFactor::SupernodalFactor(SupernodalFactor&&) noexcept = default;
SupernodalFactor& SupernodalFactor::operator=(SupernodalFactor&&) noexcept = default;

FactorOutcome SupernodalFactor::factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
  Storage& s = *storage_;
  s.values = values(s.pattern.slots);
  s.matrix.x = s.values.data();
  s.matrix.xtype = CHOLMOD_REAL;
  const OneThread one_thread;
  const bool called = cholmod_factorize(&s.matrix, s.factor, &s.common) != 0;
  if (!called || s.common.status < CHOLMOD_OK)
    return {.message =
                s.common.status == CHOLMOD_OUT_OF_MEMORY ? "out of memory" : "Cholesky factorisation failed"};
  if (s.common.status == CHOLMOD_NOT_POSDEF) return not_positive_definite();
  if (smallest_pivot_ratio(*s.factor, s.pattern, s.values) < kSingularPivot) return singular();
  return {.ok = true};
}

const std::vector<int>& SupernodalFactor::eliminated() const {
  return storage_->eliminated;
}

Eigen::MatrixXd SupernodalFactor::forward(const Eigen::Ref<const Eigen::MatrixXd>& rhs) {
  Eigen::MatrixXd ordered(rhs.rows(), rhs.cols());
  for (Eigen::Index k = 0; k < rhs.rows(); ++k) ordered.row(k) = rhs.row(eliminated()[k]);
  return storage_->solve(CHOLMOD_L, ordered);
}

Eigen::MatrixXd SupernodalFactor::backward(const Eigen::Ref<const Eigen::MatrixXd>& rhs) {
  const Eigen::Map<const Eigen::MatrixXd> ordered = storage_->solve(CHOLMOD_Lt, rhs);
  Eigen::MatrixXd result(rhs.rows(), rhs.cols());
  for (Eigen::Index k = 0; k < rhs.rows(); ++k) result.row(eliminated()[k]) = ordered.row(k);
  return result;
}

void SupernodalFactor::last_block(const std::vector<int>& place, Eigen::MatrixXd& upper) const {
  const Supernodes nodes(*storage_->factor);
  for (size_t s = 0; s < nodes.count; ++s)
    for (int j = 0; j < nodes.n_columns(s); ++j) {
      const int column = place[eliminated()[nodes.first_column[s] + j]];
      if (column < 0) continue;
      for (int i = j; i < nodes.n_rows(s); ++i)
        if (const int row = place[eliminated()[nodes.rows_of(s)[i]]]; row >= 0)
          upper(row, column) = nodes.column(s, j)[i];
    }
}

}  // namespace halftool::solver
