#include <algorithm>
#include <atomic>
#include <functional>
#include <future>
#include <vector>

#include "solver/assembly/factor.hpp"
#include "solver/assembly/substructure.hpp"

// LAPACK (Anderson and others 1999); no C header of it is sure to be there.
// NOLINTNEXTLINE(readability-identifier-naming): its own name
extern "C" void dpotrf_(const char* triangle, const int* n, double* a, const int* lda, int* info);

namespace halftool::solver {
namespace {

/// Calls `work` for 0 .. n - 1 on several threads.
void side_by_side(int n, int threads, const std::function<void(int)>& work) {
  std::atomic<int> next = 0;
  const auto work_off = [&] {
    for (int k = next++; k < n; k = next++) work(k);
  };
  std::vector<std::future<void>> others;
  for (int t = 1; t < std::min(n, threads); ++t) others.push_back(std::async(std::launch::async, work_off));
  work_off();
  for (auto& other : others) other.get();
}

}  // namespace

struct CholeskyFactor::Storage {
  int threads = 1;
  std::vector<Substructure> parts;
  std::vector<int> interface_equations;  // backwards in the order of elimination
  struct Entry {
    int slot, row, column, surplus;  // surplus: parts that hold it, less one
  };
  std::vector<Entry> entries;  // of the interface's own
  Eigen::MatrixXd interface;   // what is left of it, then its factor in the upper triangle

  void find_entries(const SparsityPattern& pattern, const std::vector<int>& place) {
    std::vector<std::vector<char>> touches(parts.size(), std::vector<char>(interface_equations.size(), 0));
    for (size_t p = 0; p < parts.size(); ++p)
      for (const int i : parts[p].touched()) touches[p][i] = 1;
    for (const int column : interface_equations)
      for (int k = pattern.column_starts()[column]; k < pattern.column_starts()[column + 1]; ++k) {
        const auto [low, high] = std::minmax({place[column], place[pattern.rows()[k]]});
        if (low < 0) continue;
        int holders = 0;
        for (const auto& touched : touches) holders += touched[low] && touched[high];
        entries.push_back({k, low, high, holders - 1});
      }
  }

  FactorOutcome factorise_interface(const Eigen::Ref<const Eigen::VectorXd>& values) {
    const int n = static_cast<int>(interface_equations.size());
    if (n == 0) return {.ok = true};
    interface.setZero(n, n);
    for (const Substructure& part : parts) part.add_share(interface);
    Eigen::VectorXd diagonal(n);
    for (const Entry& entry : entries) {
      interface(entry.row, entry.column) -= entry.surplus * values[entry.slot];
      if (entry.row == entry.column) diagonal[entry.row] = values[entry.slot];
    }
    int info = 0;
    dpotrf_("U", &n, interface.data(), &n, &info);
    if (info != 0) return not_positive_definite();
    const double smallest = (interface.diagonal().array().square() / diagonal.array()).minCoeff();
    return smallest < kSingularPivot ? singular() : FactorOutcome{.ok = true};
  }
};

CholeskyFactor::CholeskyFactor(const SparsityPattern& pattern, const FillOrder& order, int threads)
    : storage_(std::make_unique<Storage>()) {
  Storage& s = *storage_;
  s.threads = threads;
  std::vector<int> part_of(pattern.n_equations(), -1), place(pattern.n_equations(), -1);
  int begin = 0;
  for (size_t p = 0; p < order.part_ends.size(); ++p)
    for (; begin < order.part_ends[p]; ++begin) part_of[order.order[begin]] = static_cast<int>(p);
  s.interface_equations.assign(order.order.rbegin(), order.order.rend() - begin);
  for (size_t i = 0; i < s.interface_equations.size(); ++i)
    place[s.interface_equations[i]] = static_cast<int>(i);
  for (size_t p = 0; p < order.part_ends.size(); ++p)
    if (order.part_ends[p] > (p == 0 ? 0 : order.part_ends[p - 1]))
      s.parts.emplace_back(pattern, order.order, part_of, static_cast<int>(p), place);
  s.find_entries(pattern, place);
}

CholeskyFactor::~CholeskyFactor() = default;

FactorOutcome CholeskyFactor::factorise(const Eigen::Ref<const Eigen::VectorXd>& values) {
  Storage& s = *storage_;
  std::vector<FactorOutcome> outcomes(s.parts.size());
  side_by_side(static_cast<int>(s.parts.size()), s.threads,
               [&](int p) { outcomes[p] = s.parts[p].factorise(values); });
  for (const FactorOutcome& outcome : outcomes)
    if (!outcome.ok) return outcome;
  return s.factorise_interface(values);
}

void CholeskyFactor::solve_in_place(Eigen::Ref<Eigen::MatrixXd> rhs) {
  Storage& s = *storage_;
  const int n_parts = static_cast<int>(s.parts.size());
  side_by_side(n_parts, s.threads, [&](int p) { s.parts[p].forward(rhs); });
  Eigen::MatrixXd interface = rhs(s.interface_equations, Eigen::all);
  for (const Substructure& part : s.parts) part.add_passed_on(interface);
  s.interface.transpose().triangularView<Eigen::Lower>().solveInPlace(interface);
  s.interface.triangularView<Eigen::Upper>().solveInPlace(interface);
  side_by_side(n_parts, s.threads, [&](int p) { s.parts[p].backward(interface, rhs); });
  for (size_t i = 0; i < s.interface_equations.size(); ++i)
    rhs.row(s.interface_equations[i]) = interface.row(static_cast<Eigen::Index>(i));
}

}  // namespace halftool::solver
