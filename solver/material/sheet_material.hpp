#pragma once
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

/// The sheet: isotropic elasticity, von Mises yield, isotropic hardening.
struct SheetMaterial {
  std::string name;
  std::string source;         ///< where the constants come from, printed with results
  std::string grade;          ///< measured certificate | measured publication | handbook typical | guessed
  double youngs_modulus = 0;  ///< [MPa]
  double poissons_ratio = 0;  ///< 0 <= nu < 0.5
  Hardening hardening;
};

}  // namespace halftool::solver
