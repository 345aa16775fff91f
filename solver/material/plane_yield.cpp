#include "solver/material/plane_yield.hpp"

#include "solver/material/yld2000_fit.hpp"

namespace halftool::solver {
namespace {

PlaneYield plane_form(const PlaneModuli& moduli, const VonMises& /*mises*/) {
  return moduli;
}
PlaneYield plane_form(const PlaneModuli& moduli, const RValues& r) {
  return HillPlane(moduli, HillConstants(r));
}
PlaneYield plane_form(const PlaneModuli& moduli, const Yld2000& yield) {
  return YldPlane(moduli, yield);
}
PlaneYield plane_form(const PlaneModuli& moduli, const Yld2000Tests& tests) {
  return YldPlane(moduli, fit_yld2000(tests).yield);
}

}  // namespace

PlaneYield plane_yield(const PlaneModuli& moduli, const YieldCondition& yield) {
  return std::visit([&](const auto& of) { return plane_form(moduli, of); }, yield);
}

MovingYield moving_yield(const PlaneYield& yield) {
  if (const auto* hill = std::get_if<HillPlane>(&yield)) return QuadraticYield(*hill);
  if (const auto* yld = std::get_if<YldPlane>(&yield)) return MovingYld2000(*yld);
  return QuadraticYield(std::get<PlaneModuli>(yield));
}

}  // namespace halftool::solver
