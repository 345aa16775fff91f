#include <dmumps_c.h>

#include <limits>
#include <stdexcept>
#include <string>

#include "solver/assembly/factor.hpp"

namespace halftool::solver {
namespace {

constexpr int kUseCommWorld = -987654;
enum Job { kInitialise = -1, kTerminate = -2, kAnalyse = 1, kFactorise = 2, kSolve = 3 };

constexpr int kWorkspaceTooSmall = -9, kIntegerWorkspaceTooSmall = -8, kNumericallySingular = -10,
              kOutOfMemory = -13;
/// A row whose entries are this small beside the norm of the scaled matrix holds rounding errors only.
constexpr double kSingularPivot = 1e2 * std::numeric_limits<double>::epsilon();
constexpr int kMostRelaxation = 400;  // [percent]

}  // namespace

struct IndefiniteFactor::Storage {
  explicit Storage(const SparsityPattern& pattern) {
    id.par = 1;
    id.sym = 2;
    id.comm_fortran = kUseCommWorld;
    run(kInitialise);
    for (int stream = 1; stream <= 3; ++stream) control(stream) = -1;
    control(4) = 0;   // silent
    control(7) = 1;   // elimination order given
    control(13) = 1;  // count the negative pivots of the last front too
    control(24) = 1;  // find null pivots instead of dividing by them
    id.cntl[3 - 1] = kSingularPivot;
    id.n = pattern.n_equations();
    id.nnz = pattern.n_values();
    for (int column = 0; column < pattern.n_equations(); ++column)
      for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k) {
        rows.push_back(pattern.rows()[k] + 1);
        columns.push_back(column + 1);
      }
    id.irn = rows.data();
    id.jcn = columns.data();
  }
  ~Storage() { run(kTerminate); }
  Storage(const Storage&) = delete;
  Storage& operator=(const Storage&) = delete;

  void run(Job job) {
    id.job = job;
    dmumps_c(&id);
  }
  int& control(int number) { return id.icntl[number - 1]; }
  [[nodiscard]] int report(int number) const { return id.infog[number - 1]; }

  [[nodiscard]] FactorOutcome failure() const {
    if (report(1) == kOutOfMemory) return {.message = "out of memory"};
    return {.message = "MUMPS error " + std::to_string(report(1)) + ", " + std::to_string(report(2))};
  }

  DMUMPS_STRUC_C id = {};
  std::vector<int> rows, columns, position;
  bool analysed = false;
};

IndefiniteFactor::IndefiniteFactor(const SparsityPattern& pattern, const std::vector<int>& order)
    : storage_(std::make_unique<Storage>(pattern)) {
  storage_->position.resize(order.size());
  for (size_t k = 0; k < order.size(); ++k) storage_->position[order[k]] = static_cast<int>(k) + 1;
  storage_->id.perm_in = storage_->position.data();
}

IndefiniteFactor::~IndefiniteFactor() = default;

FactorOutcome IndefiniteFactor::factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
  Storage& s = *storage_;
  if (!s.analysed) {
    s.run(kAnalyse);
    if (s.report(1) < 0) return s.failure();
    s.analysed = true;
  }
  s.id.a = const_cast<double*>(values.data());  // read only
  s.run(kFactorise);
  while ((s.report(1) == kWorkspaceTooSmall || s.report(1) == kIntegerWorkspaceTooSmall) &&
         s.control(14) < kMostRelaxation) {
    s.control(14) *= 2;  // many delayed pivots
    s.run(kFactorise);
  }
  s.id.a = nullptr;
  if (s.report(1) == kNumericallySingular || (s.report(1) >= 0 && s.report(28) > 0))
    return {.singular = true, .message = "singular to working accuracy"};
  if (s.report(1) < 0) return s.failure();
  return {.ok = true, .negative_pivots = s.report(12)};
}

void IndefiniteFactor::solve_in_place(Eigen::Ref<Eigen::MatrixXd> rhs) {
  Storage& s = *storage_;
  s.id.rhs = rhs.data();
  s.id.nrhs = static_cast<int>(rhs.cols());
  s.id.lrhs = static_cast<int>(rhs.outerStride());
  s.run(kSolve);
  s.id.rhs = nullptr;
  if (s.report(1) < 0)
    throw std::runtime_error("MUMPS solution failed, error " + std::to_string(s.report(1)));
}

}  // namespace halftool::solver
