#include "io/cli/scatter_design.hpp"

#include <fmt/format.h>

#include <functional>

#include "solver/assessment/varied_sheet.hpp"
#include "solver/material/scaled_strength.hpp"

namespace halftool::io {
namespace {

/// Something that varies, and how a case is moved to one of its ends.
struct Factor {
  std::string name, range;
  std::function<void(Case&, int sign)> move;
};

void scale_friction(Case& job, double factor) {
  job.press.tool_friction *= factor;
  for (FrictionZone& zone : job.friction_zones) zone.mu *= factor;
}

std::vector<Factor> factors_of(const Scatter& scatter) {
  std::vector<Factor> factors;
  const auto share = [](double value) { return fmt::format("+-{:.3g} %", 100 * value); };
  if (const auto by = scatter.thickness)
    factors.push_back({"thickness", fmt::format("+-{:.3g} mm", *by),
                       [by = *by](Case& job, int sign) { job.blank.thickness += sign * by; }});
  if (const auto by = scatter.strength)
    factors.push_back({"strength", share(*by), [by = *by](Case& job, int sign) {
                         job.material = solver::with_strength(job.material, 1 + sign * by);
                       }});
  if (const auto by = scatter.exponent)
    factors.push_back({"exponent", share(*by), [by = *by](Case& job, int sign) {
                         if (auto sheet = solver::with_exponent(job.material, 1 + sign * by))
                           job.material = std::move(*sheet);
                       }});
  if (const auto by = scatter.friction)
    factors.push_back(
        {"friction", share(*by), [by = *by](Case& job, int sign) { scale_friction(job, 1 + sign * by); }});
  return factors;
}

}  // namespace

TwoLevelDesign scatter_design(const Case& job) {
  std::vector<std::string> names;
  for (const Factor& factor : factors_of(job.scatter)) names.push_back(factor.name + " " + factor.range);
  return two_level_design(std::move(names), job.scatter.half);
}

std::vector<CaseVariant> scatter_variants(const Case& job, const TwoLevelDesign& design) {
  const auto factors = factors_of(job.scatter);
  std::vector<CaseVariant> variants = {{"middle", job}};
  for (const std::vector<int>& signs : design.signs) {
    CaseVariant variant{"", job};
    for (std::size_t f = 0; f < factors.size(); ++f) {
      factors[f].move(variant.job, signs[f]);
      variant.label +=
          fmt::format("{}{} {}", f > 0 ? ", " : "", factors[f].name, signs[f] < 0 ? "low" : "high");
    }
    variants.push_back(std::move(variant));
  }
  return variants;
}

}  // namespace halftool::io
