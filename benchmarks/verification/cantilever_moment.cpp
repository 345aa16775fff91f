#include "tests/verification/cantilever_moment.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"

namespace halftool::verification {
namespace {

void add_rows(unsigned seed, Report& report) {
  double coarser = 0;
  for (const int divisions : {8, 16, 32}) {
    const test::Ring ring = test::roll(divisions, seed);
    Row curve;
    curve.quantity = "displacement of the tip [mm], worst of 20 moments";
    curve.mesh = mesh_words(divisions, divisions / 8, seed);
    curve.value = ring.worst_size * (1 + ring.worst_miss);
    curve.reference = ring.worst_size;
    curve.error = ring.worst_miss;
    curve.remark = fmt::format("size of the error's vector, at {:g} of the moment", ring.worst_share);
    Row opening;
    opening.quantity = "opening of the full ring [mm], over the length";
    opening.mesh = curve.mesh;
    opening.value = ring.opening;
    opening.error = ring.opening / test::kRingLength;
    opening.rate = observed_rate(coarser, opening.error);
    coarser = opening.error;
    if (divisions == 32) curve.allowed = opening.allowed = 0.005;
    report.rows.push_back(curve);
    report.rows.push_back(opening);
  }
}

Report run() {
  Report report;
  for (const unsigned seed : {0U, 1U, 2U, 3U}) add_rows(seed, report);
  return report;
}

}  // namespace

Problem cantilever_moment() {
  return {"cantilever-moment",       "Cantilever rolled up to a full ring",
          "Elastic, large rotation", "exact: the arc; problem 3.2 of Sze, Liu and Lo 2004",
          Evidence::closed_form,     run};
}

}  // namespace halftool::verification
