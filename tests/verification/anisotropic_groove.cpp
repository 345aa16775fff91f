#include "tests/verification/anisotropic_groove.hpp"

#include <array>
#include <cstdio>
#include <numbers>

#include "solver/assessment/computed_limit.hpp"

namespace halftool::test {
namespace {

constexpr double kApart = 2e-3;  // the default steps lie up to 0.0015 low

constexpr std::array<double, 8> kRatios = {-0.4, -0.2, 0, 0.1, 0.25, 0.5, 0.75, 1};
using Limits = std::array<double, kRatios.size()>;

struct Sheet {
  const char* name;
  solver::Hardening hardening;
  solver::YieldCondition yield;
  Limits along, across;  ///< of the second program, major strain along and across rolling
};

const std::vector<Sheet>& sheets() {
  static const std::vector<Sheet> all = {
      {"AA6016-T4",
       solver::VoceHardening{140.2, 330.2, 12.4},
       solver::Yld2000{8, {0.9238, 0.9967, 0.9365, 1.0227, 1.0303, 1.0075, 0.8385, 1.3761}},
       {0.16739, 0.15113, 0.13467, 0.14117, 0.15347, 0.1627, 0.15385, 0.13728},
       {0.16977, 0.15248, 0.13378, 0.13507, 0.14574, 0.158, 0.15216, 0.13728}},
      {"AA6022-T4",
       solver::VoceHardening{214, 436, 6.75},
       solver::Yld2000{8, {0.919, 1.072, 1.204, 1.109, 0.992, 0.892, 0.957, 1.098}},
       {0.21983, 0.19045, 0.16355, 0.16591, 0.18102, 0.20188, 0.21872, 0.23083},
       {0.22332, 0.19411, 0.16981, 0.24353, 0.24137, 0.25283, 0.25998, 0.23083}},
      {"AA2090-T3",
       solver::SwiftHardening{646, 0.025, 0.227},
       solver::Yld2000{8, {0.4865, 1.3783, 0.7536, 1.0246, 1.0363, 0.9036, 1.2321, 1.4858}},
       {0.24978, 0.19704, 0.15926, 0.15991, 0.1762, 0.19525, 0.18862, 0.16885},
       {0.26867, 0.20147, 0.1599, 0.15571, 0.16623, 0.18566, 0.18583, 0.16885}},
      {"steel-304",
       solver::HollomonHardening{1400, 0.44, 191},
       solver::RValues{0.822, 1.104, 0.798},
       {0.57715, 0.44789, 0.36721, 0.37438, 0.45076, 0.61989, 0.77567, 0.76612},
       {0.57771, 0.44815, 0.36714, 0.37484, 0.45327, 0.62544, 0.7816, 0.76612}},
      {"AA2024-T3",
       solver::HollomonHardening{780, 0.17, 345},
       solver::RValues{0.777, 1.075, 0.622},
       {0.20337, 0.15404, 0.12447, 0.13312, 0.19404, 0.35828, 0.53465, 0.55393},
       {0.20392, 0.15408, 0.12396, 0.13632, 0.21314, 0.4098, 0.58049, 0.55393}},
  };
  return all;
}

}  // namespace

std::vector<LimitStrain> grooves_of_anisotropic_sheets(double fineness) {
  std::vector<LimitStrain> rows;
  for (const Sheet& sheet : sheets()) {
    solver::SheetMaterial material;
    material.youngs_modulus = 7e4;
    material.poissons_ratio = 0.3;
    material.hardening = sheet.hardening;
    material.yield = sheet.yield;
    const solver::GrooveMetal metal = solver::groove_metal(material);
    for (const bool across : {false, true}) {
      for (std::size_t i = 0; i < kRatios.size(); ++i) {
        char text[100];
        (void)std::snprintf(text, sizeof text, "%s, %s rolling, strain ratio %g", sheet.name,
                            across ? "across" : "along", kRatios.at(i));
        rows.push_back(
            {text,
             solver::path_limit(metal, kRatios.at(i), across ? 0.5 * std::numbers::pi : 0, 0.005, fineness),
             (across ? sheet.across : sheet.along).at(i), kApart});
      }
    }
  }
  return rows;
}

}  // namespace halftool::test
