#include "io/results/summary.hpp"

#include <cmath>

namespace halftool::io {
namespace {

double ratio(double part, double whole) {
  return whole != 0 ? part / whole : std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

std::string outcome_word(Outcome outcome) {
  switch (outcome) {
    case Outcome::done:
      return "done";
    case Outcome::limit_passed:
      return "limit passed";
    case Outcome::not_completed:
      return "not completed";
    case Outcome::stopped:
      return "stopped";
  }
  return "unknown";
}

double Comparison::difference() const {
  if (not_reached && estimated > computed) return 0;
  return computed / estimated - 1;
}

bool Comparison::is_apart() const {
  constexpr double noticeable = 0.3;
  return std::abs(difference()) > noticeable;
}

double force_imbalance(const solver::RunRecord& record) {
  const double sum = record.pressure_force_z + record.tool_force_z + record.held_force_z;
  return ratio(sum, std::abs(record.pressure_force_z));
}

double regularisation_share(const solver::RunRecord& record) {
  return ratio(record.regularisation_work, record.external_work);
}

double penetration_share(const Summary& summary) {
  return ratio(summary.record.largest_penetration, summary.initial_thickness);
}

double total_seconds(const Summary& summary) {
  double total = 0;
  for (const PhaseTime& phase : summary.phases) total += phase.seconds;
  return total;
}

double overhead_share(const solver::RunRecord& record) {
  const double core = record.seconds_factor + record.seconds_solve + record.seconds_element;
  const double rest = record.seconds_other;
  return ratio(rest, core + rest);
}

}  // namespace halftool::io
