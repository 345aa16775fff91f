#include "tests/verification/stretch_bend.hpp"

#include <fmt/format.h>

#include "benchmarks/verification/problems.hpp"
#include "tests/support/reference_sheets.hpp"

namespace halftool::verification {
namespace {

void add_rows(double ratio, double tension, double elements, Report& report) {
  test::StretchBend setup;
  setup.material = test::soft_aluminium();
  setup.ratio = ratio;
  setup.tension = tension;
  setup.elements = elements;
  const test::StretchBendResult ours = test::stretch_bend(setup);
  const test::FibreStretchBend fibres = test::stretch_bend_fibres(setup);
  const std::string mesh = fmt::format("{:g} elements over 90 degrees", elements);
  const std::string at = fmt::format(", R/t {:g}, T/Ty {:g}", ratio, tension);
  Row moment = compare("moment under load [N]" + at, mesh, ours.moment, fibres.moment);
  Row springback = compare("springback, share of the bend" + at, mesh, ours.springback, fibres.springback);
  moment.allowed = springback.allowed = 0.02;
  report.rows.insert(report.rows.end(), {moment, springback});
  if (elements > 50) return;
  setup.tension = 0;
  Row law = compare("moment over that without tension" + at, mesh,
                    ours.moment / test::stretch_bend_fibres(setup).moment, 1 - tension * tension);
  law.remark = "the law is that of a perfectly plastic sheet; this one hardens and carries more";
  report.rows.push_back(law);
}

Report run() {
  Report report;
  for (const double ratio : {10.0, 20.0})
    for (const double tension : {0.25, 0.5, 0.75})
      for (const double elements : {48.0, 96.0}) add_rows(ratio, tension, elements, report);
  report.discussion =
      "The sheet hardens (aluminium of NUMISHEET 1993, from memory). A perfectly plastic one, for which the "
      "law 1 - (T/Ty)^2 is exact, is not run: without hardening nothing but the contact points would spread "
      "the bend. Springback is that of force and tool taken away in one increment. Where the force falls on "
      "the tool first, the moment outlives it "
      "(its arm grows), the inner fibres yield again, and 13 percent less springs back (R/t 10, T/Ty 0.5, "
      "four steps).";
  return report;
}

}  // namespace

Problem stretch_bend() {
  return {"stretch-bend",         "Strip bent over a cylinder under tension",
          "Friction and tension", "fibre integral; 1 - (T/Ty)^2: Marciniak, Duncan and Hu 2002, ch. 6",
          Evidence::closed_form,  run};
}

}  // namespace halftool::verification
