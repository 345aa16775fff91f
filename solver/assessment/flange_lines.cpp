#include <cmath>
#include <numbers>

#include "solver/assessment/flange_estimate.hpp"

namespace halftool::solver {
namespace {

double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}

std::string form_of(const mesh::ToolBend& bend) {
  if (bend.plan_curvature == 0) return "";
  if (!bend.has_flange()) return ", curved in plan";
  return bend.plan_curvature < 0 ? ", stretch flange" : ", shrink flange";
}

Estimate line_of(const FlangeEstimate& flange) {
  Estimate line;
  line.what = flange.name + form_of(flange.bend);
  line.at = flange.bend.at;
  return line;
}

Estimate fold_line(const FlangeEstimate& flange, const ScreenLoad& load) {
  Estimate line = line_of(flange);
  line.value = {"fold starts at", flange.fold_pressure, "MPa"};
  line.against = {"peak pressure", load.pressure, "MPa"};
  line.passed = flange.fold_pressure > load.pressure;
  line.formula = "p = S t^2/(2 L^2), S = (2/sqrt 3) sigma";
  const double c = flange.axis_curvature;
  if (c != 0) line.formula = "p = S t^2/(2 L^2) (1 + |c| L)/(1 + 2/3 c L), S = (2/sqrt 3) sigma";
  line.inputs = {
      {"sigma", proof_stress(load), "MPa"}, {"t", load.thickness, "mm"}, {"L", flange.bend.overhang, "mm"}};
  line.note =
      "L: flat sheet beyond where the edge begins to round, mean along it; sigma is the proof stress at 0.2 "
      "%";
  if (c != 0) {
    line.inputs.push_back({"c", c, "1/mm"});
    line.note += "; c: curvature in plan of that edge, below 0 round an opening";
  }
  return line;
}

Estimate springback_line(const FlangeEstimate& flange, const ScreenLoad& load, double scatter) {
  const double turn = degrees(flange.bend.turn);
  Estimate line = line_of(flange);
  line.value = {"opens by", turn * flange.springback->share, "deg"};
  line.band = {turn * flange.springback->low, turn * flange.springback->high};
  line.formula =
      "section bent in plane strain to R + t/2 and let go, layer by layer; opens by about the turn times "
      "12 M (1 - nu^2)/(E t^3 k) where it unloads elastically";
  line.inputs = {{"R", flange.bend.radius, "mm"},
                 {"t", load.thickness, "mm"},
                 {"turn", turn, "deg"},
                 {"k", 1 / (flange.bend.radius + load.thickness / 2), "1/mm"},
                 {"M", flange.springback->moment, "N"},
                 {"E", load.sheet.youngs_modulus / 1000, "GPa"},
                 {"nu", load.sheet.poissons_ratio, ""},
                 {"flow stress at first yield", first_yield(load), "MPa"},
                 {"at strain 0.1", worked_stress(load), "MPa"},
                 {"strength of the band, +-", 100 * scatter, "%"}};
  line.source = "agrees with Gardiner 1957 where the sheet does not harden";
  line.note =
      "M: moment per width that bends the section with the whole hardening law (halftool check prints it) "
      "and the "
      "yield condition of the case; counts the bend alone: no pressure, no friction, no curvature in plan; a "
      "modulus that falls with "
      "strain opens it further";
  return line;
}

Estimate fibre_line(const FlangeEstimate& flange, const ScreenLoad& load, const FlangeLimits& limits) {
  Estimate line = line_of(flange);
  line.value = {"strain of the outer fibre", flange.fibre_strain, ""};
  if (limits.bend_strain) line.against = {"bend limit", *limits.bend_strain, ""};
  line.passed = limits.bend_strain && flange.fibre_strain > *limits.bend_strain;
  line.formula = "ln(1 + t/(2 R + t))";
  line.inputs = {{"R", flange.bend.radius, "mm"}, {"t", load.thickness, "mm"}};
  line.evidence = Evidence::from_memory;
  line.source = "Marciniak, Duncan and Hu 2002, ch. 6";
  if (limits.bend_strain) return line;
  line.note = "not judged: the case gives no bend limit";
  if (flange.fibre_strain > uniform_strain(tension_curve(load.sheet)))
    line.note += "; tighter than the least inside radius above, which is no limit but says to test this bend";
  return line;
}

Estimate edge_line(const FlangeEstimate& flange, const ScreenLoad& load, const FlangeLimits& limits) {
  const mesh::ToolBend& bend = flange.bend;
  const bool stretched = flange.edge_strain > 0;
  Estimate line = line_of(flange);
  line.value = {"strain along the cut edge", flange.edge_strain, ""};
  if (stretched && limits.edge_strain) line.against = {"edge limit", *limits.edge_strain, ""};
  line.passed = stretched && limits.edge_strain && flange.edge_strain > *limits.edge_strain;
  const std::string side = bend.plan_curvature < 0 ? "-" : "+";
  line.formula = "ln(Rf/Rb), Rb = Ra " + side + " Lmax of the flat edge, Rf = Ra " + side +
                 " ((R + t/2) sin turn + h cos turn) of the formed one, leg h = Lmax - (R + t/2) turn";
  line.inputs = {{"Ra", flange.axis_radius, "mm"},
                 {"R", bend.radius, "mm"},
                 {"t", load.thickness, "mm"},
                 {"turn", degrees(bend.turn), "deg"},
                 {"Lmax", bend.longest_overhang, "mm"},
                 {"h", flange_leg(bend.longest_overhang, bend.radius + load.thickness / 2, bend.turn), "mm"},
                 {"Rb", flange.edge_radii.flat, "mm"},
                 {"Rf", flange.edge_radii.formed, "mm"},
                 {"thinning there", 100 * flange.edge_thinning, "%"}};
  line.note =
      "Ra: radius in plan of the axis of the edge's rounding; Lmax: as L, where the flange is longest. Upper "
      "bound: the web gives way";
  if (stretched && !limits.edge_strain) line.note += ". Not judged: the case gives no edge limit";
  return line;
}

Estimate waving_line(const FlangeEstimate& flange, const ScreenLoad& load) {
  Estimate line = line_of(flange);
  line.value = {"waves from an edge strain of", -flange.waving_strain, ""};
  line.against = {"edge strain", flange.edge_strain, ""};
  line.passed = -flange.edge_strain > flange.waving_strain;
  line.formula = "k pi^2/(12 (1 - nu^2)) (t/Lmax)^2, k = 0.43";
  line.inputs = {{"t", load.thickness, "mm"},
                 {"Lmax", flange.bend.longest_overhang, "mm"},
                 {"nu", load.sheet.poissons_ratio, ""}};
  line.evidence = Evidence::from_memory;
  line.source = "Timoshenko and Gere 1961, plate with one side free";
  line.note = "elastic: waves begin, and the pressure irons them or does not";
  return line;
}

}  // namespace

EstimateGroup flange_lines(const std::vector<FlangeEstimate>& flanges, const ScreenLoad& load,
                           const FlangeLimits& limits, double scatter) {
  EstimateGroup group{"flanges", {}, {}};
  if (flanges.empty())
    group.not_found.push_back("no rounded outside edge that turns by 20 degrees lies in the sheet's reach");
  for (const FlangeEstimate& flange : flanges) {
    if (flange.bend.has_flange())
      group.estimates.push_back(fold_line(flange, load));
    else
      group.not_found.push_back(flange.name + ": the sheet does not end beyond it, so no flange");
    if (flange.springback)
      group.estimates.push_back(springback_line(flange, load, scatter));
    else
      group.not_found.push_back(flange.name + ": the section found no balance, so no springback");
    group.estimates.push_back(fibre_line(flange, load, limits));
    if (flange.leg < 0)
      group.not_found.push_back(flange.name + ": the flange is shorter than the bend and does not wrap it");
    if (!std::isnan(flange.edge_strain)) group.estimates.push_back(edge_line(flange, load, limits));
    if (flange.edge_strain < 0) group.estimates.push_back(waving_line(flange, load));
  }
  return group;
}

EstimateGroup sheet_lines(const ScreenLoad& load, double friction, const FlangeLimits& limits) {
  EstimateGroup group{"sheet", {}, {}};
  Estimate lock;
  lock.what = "friction under the peak pressure";
  lock.value = {"locks a flange longer than",
                locking_length(worked_stress(load), load.thickness, friction, load.pressure), "mm"};
  lock.formula = "L = S t/(mu p), S = (2/sqrt 3) sigma";
  lock.inputs = {{"sigma", worked_stress(load), "MPa"},
                 {"t", load.thickness, "mm"},
                 {"mu", friction, ""},
                 {"p", load.pressure, "MPa"}};
  lock.note =
      "tool side only, the cut edge loaded by the fluid; ten times as long at a tenth of the pressure. "
      "sigma is the flow stress at a strain of 0.1";
  group.estimates.push_back(lock);

  Estimate least;
  least.what = "bends of this sheet";
  const double strain = limits.bend_strain ? *limits.bend_strain : uniform_strain(tension_curve(load.sheet));
  least.value = {"least inside radius", radius_of_fibre_strain(strain, load.thickness), "mm"};
  least.formula = "R = t/2 (1/(exp(e) - 1) - 1), from e = ln(1 + t/(2 R + t))";
  least.inputs = {
      {limits.bend_strain ? "e, bend limit of the case" : "e, uniform strain of the sheet", strain, ""},
      {"t", load.thickness, "mm"}};
  if (!limits.bend_strain)
    least.note =
        "the outer fibre at the uniform strain, which bends usually outlast: give limits.bend_ratio from "
        "a bend test or a table of your metal";
  group.estimates.push_back(least);
  return group;
}

}  // namespace halftool::solver
