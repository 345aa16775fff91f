#pragma once
#include <optional>
#include <string>
#include <variant>

namespace halftool::solver {

/// Flow stress sigma = K (eps0 + eps_p)^n [MPa]. Swift (1952).
struct SwiftHardening {
  double strength = 0;    ///< K [MPa], > 0
  double pre_strain = 0;  ///< eps0, > 0
  double exponent = 0;    ///< n, 0 < n < 1
};
/// Flow stress sigma = s_inf - (s_inf - s_0) exp(-c eps_p) [MPa]. Voce (1948).
struct VoceHardening {
  double initial = 0;     ///< s_0 [MPa], > 0
  double saturation = 0;  ///< s_inf [MPa], >= s_0
  double rate = 0;        ///< c, >= 0
};
using Hardening = std::variant<SwiftHardening, VoceHardening>;

/// Flow stress and its slope at one equivalent plastic strain.
struct FlowStress {
  double stress = 0;  ///< [MPa]
  double slope = 0;   ///< d stress / d equivalent plastic strain [MPa]
};
FlowStress flow_stress(const Hardening& hardening, double equivalent_plastic_strain);

/// True uniform strain of the tensile test: where slope equals stress (Considere). 0 if the sheet necks at
/// yield.
double uniform_strain(const Hardening& hardening);

/// Ratios of width to thickness strain in tension at 0, 45 and 90 degrees to the rolling direction; each > 0,
/// all 1: no anisotropy.
struct RValues {
  double r0 = 1, r45 = 1, r90 = 1;
};

/// The sheet: isotropic elasticity, von Mises or Hill (1948) yield, isotropic hardening.
struct SheetMaterial {
  std::string name;
  std::string source;         ///< where the constants come from, printed with results
  std::string grade;          ///< measured certificate | measured publication | handbook typical | guessed
  double youngs_modulus = 0;  ///< [MPa]
  double poissons_ratio = 0;  ///< 0 <= nu < 0.5
  Hardening hardening;        ///< measured along the rolling direction where r_values are given
  std::optional<RValues> r_values = {};  ///< of Hill's yield condition (hill_1948.hpp); nothing: von Mises
};

}  // namespace halftool::solver
