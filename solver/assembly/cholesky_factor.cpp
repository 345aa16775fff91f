#include <cholmod.h>
#include <omp.h>

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "solver/assembly/factor.hpp"

namespace halftool::solver {
namespace {

/// A pivot this small a part of its diagonal entry has lost all digits to cancellation: about a hundred
/// rounding errors (common practice, no source). A strip a thousand elements long still has 1e-10.
constexpr double kSingularPivot = 1e2 * std::numeric_limits<double>::epsilon();

/// Smallest ratio of a pivot to the diagonal entry that it came from.
double smallest_pivot_ratio(const cholmod_factor& factor, const std::vector<int>& column_starts,
                            const double* values) {
  const auto* super = static_cast<const int*>(factor.super);
  const auto* rows_start = static_cast<const int*>(factor.pi);
  const auto* values_start = static_cast<const int*>(factor.px);
  const auto* equation = static_cast<const int*>(factor.Perm);
  const auto* x = static_cast<const double*>(factor.x);
  double smallest = std::numeric_limits<double>::infinity();
  for (size_t s = 0; s < factor.nsuper; ++s) {
    const int n_rows = rows_start[s + 1] - rows_start[s];
    for (int j = 0; j < super[s + 1] - super[s]; ++j) {
      const double root = x[values_start[s] + static_cast<size_t>(j) * n_rows + j];
      smallest = std::min(smallest, root * root / values[column_starts[equation[super[s] + j]]]);
    }
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

struct CholeskyFactor::Storage {
  explicit Storage(const SparsityPattern& pattern)
      : column_starts(pattern.column_starts()), rows(pattern.rows()) {
    cholmod_start(&common);
    common.print = 0;
    common.supernodal = CHOLMOD_SUPERNODAL;
    common.final_ll = 1;
    common.quick_return_if_not_posdef = 1;
    common.nmethods = 1;
    common.method[0].ordering = CHOLMOD_GIVEN;
    matrix.nrow = matrix.ncol = pattern.n_equations();
    matrix.nzmax = rows.size();
    matrix.p = column_starts.data();
    matrix.i = rows.data();
    matrix.stype = -1;  // lower triangle
    matrix.itype = CHOLMOD_INT;
    matrix.xtype = CHOLMOD_REAL;
    matrix.dtype = CHOLMOD_DOUBLE;
    matrix.sorted = matrix.packed = 1;
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

  std::vector<int> column_starts, rows;
  cholmod_common common = {};
  cholmod_sparse matrix = {};  // views column_starts, rows and, during factorise, the caller's values
  cholmod_factor* factor = nullptr;
  cholmod_dense *solution = nullptr, *workspace_y = nullptr, *workspace_e = nullptr;
};

CholeskyFactor::CholeskyFactor(const SparsityPattern& pattern, const std::vector<int>& order)
    : storage_(std::make_unique<Storage>(pattern)) {
  std::vector<int> permutation = order;
  storage_->matrix.xtype = CHOLMOD_PATTERN;
  storage_->factor = cholmod_analyze_p(&storage_->matrix, permutation.data(), nullptr, 0, &storage_->common);
  storage_->matrix.xtype = CHOLMOD_REAL;
  if (storage_->factor == nullptr) throw std::bad_alloc();
}

CholeskyFactor::~CholeskyFactor() = default;

FactorOutcome CholeskyFactor::factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
  Storage& s = *storage_;
  s.matrix.x = const_cast<double*>(values.data());  // read only
  const OneThread one_thread;
  const bool called = cholmod_factorize(&s.matrix, s.factor, &s.common) != 0;
  s.matrix.x = nullptr;
  if (!called || s.common.status < CHOLMOD_OK)
    return {.message =
                s.common.status == CHOLMOD_OUT_OF_MEMORY ? "out of memory" : "Cholesky factorisation failed"};
  if (s.common.status == CHOLMOD_NOT_POSDEF) return {.message = "not positive definite"};
  if (smallest_pivot_ratio(*s.factor, s.column_starts, values.data()) < kSingularPivot)
    return {.singular = true, .message = "singular to working accuracy"};
  return {.ok = true};
}

void CholeskyFactor::solve_in_place(Eigen::Ref<Eigen::MatrixXd> rhs) {
  const OneThread one_thread;
  Storage& s = *storage_;
  cholmod_dense b = {};
  b.nrow = rhs.rows();
  b.ncol = rhs.cols();
  b.d = rhs.outerStride();
  b.nzmax = b.d * b.ncol;
  b.x = rhs.data();
  b.xtype = CHOLMOD_REAL;
  b.dtype = CHOLMOD_DOUBLE;
  if (!cholmod_solve2(CHOLMOD_A, s.factor, &b, nullptr, &s.solution, nullptr, &s.workspace_y, &s.workspace_e,
                      &s.common))
    throw std::bad_alloc();
  rhs = Eigen::Map<const Eigen::MatrixXd>(static_cast<const double*>(s.solution->x), rhs.rows(), rhs.cols());
}

}  // namespace halftool::solver
