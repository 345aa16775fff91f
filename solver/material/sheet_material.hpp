#pragma once
#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

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
/// Hollomon's power law K eps^n from first yield on: flow stress sigma = K (eps0 + eps_p)^n, eps0 =
/// (s_0/K)^(1/n) [MPa]. Hollomon (1945); the law itself has no first yield.
struct HollomonHardening {
  double strength = 0;  ///< K [MPa], > 0
  double exponent = 0;  ///< n, 0 < n < 1
  double initial = 0;   ///< s_0, first yield [MPa], > 0
};
/// Flow stress sigma = s_0 + K eps_p^n [MPa]. Ludwik (1909).
struct LudwikHardening {
  double initial = 0;   ///< s_0 [MPa], > 0
  double strength = 0;  ///< K [MPa], >= 0
  double exponent = 0;  ///< n, 0 < n < 1
};
/// Flow stress w times Swift's law plus (1 - w) times Voce's: between one that never saturates and one that
/// does.
struct SwiftVoceHardening {
  double swift_share = 0;  ///< w, 0 <= w <= 1
  SwiftHardening swift;
  VoceHardening voce;
};
/// Measured flow curve, straight between its points; how it goes on: flow_table.hpp.
struct TableHardening {
  std::vector<std::array<double, 2>> points;  ///< [equivalent plastic strain from 0 up, true stress [MPa]]
};
/// Two surfaces: a yield surface of constant size Y that moves inside a bounding surface, which grows from B
/// by R and moves by beta. Yoshida and Uemori, Int. J. Plast. 18 (2002) 661-686; the equations:
/// yoshida_uemori.hpp.
struct YoshidaUemoriHardening {
  double yield = 0;        ///< Y [MPa], > 0
  double bound = 0;        ///< B, first size of the bounding surface [MPa], > Y
  double bound_shift = 0;  ///< b, how far the bounding surface moves in the end [MPa], >= 0
  double bound_gain = 0;   ///< R_sat, how much it grows in the end [MPa], >= 0
  double bound_rate = 0;   ///< m, how fast it moves and grows with plastic strain, >= 0
  double approach = 0;     ///< C, how fast the yield surface moves towards the bounding surface, > 0
  double stagnation = 0;   ///< h of the surface of work-hardening stagnation, 0 (none) to 1
};
using Hardening = std::variant<SwiftHardening, VoceHardening, HollomonHardening, LudwikHardening,
                               SwiftVoceHardening, TableHardening, YoshidaUemoriHardening>;

/// One term of the backstress, which moves the yield surface by C/gamma (1 - exp(-gamma eps_p)) under one
/// constant direction. Frederick and Armstrong, Mater. High Temp. 24 (2007) 1-26 (a report of 1966); several
/// terms: Chaboche, Int. J. Plast. 2 (1986) 149-188.
struct BackstressTerm {
  double modulus = 0;  ///< C [MPa], >= 0
  double rate = 0;     ///< gamma, >= 0; 0: moves in proportion to plastic strain (Prager)
};
constexpr int kMostBackstressTerms = 3;

/// Young's modulus that falls with plastic strain, E = E0 - (E0 - Ea) (1 - exp(-xi eps_p)). Yoshida, Uemori
/// and Fujiwara, Int. J. Plast. 18 (2002) 633-659.
struct FallingModulus {
  double saturated = 0;  ///< Ea [MPa], > 0 and at most Young's modulus
  double rate = 0;       ///< xi, >= 0
};

/// Flow stress goes as the m-th power of the strain rate. Between a groove and the sheet beside it the
/// exponent alone acts (computed_limit.hpp). In the press it acts where the strain rates of the press and of
/// the test that gave the hardening law are stated: flow stress times (press/test)^m, one constant factor on
/// the whole law, not computed from the run. Power law of rate: Marciniak, Duncan and Hu, Mechanics of Sheet
/// Metal Forming (2002), ch. 3, from memory.
struct StrainRate {
  std::optional<double> press, test;  ///< [1/s], > 0; both or neither
  double exponent = 0;  ///< m, rate sensitivity; slightly below 0 in some aluminium-magnesium sheets
};

/// Flow stress and how it goes on at one equivalent plastic strain.
struct FlowStress {
  double stress = 0;  ///< [MPa]
  double slope = 0;   ///< d stress / d equivalent plastic strain [MPa]
  double bend =
      0;  ///< d slope / d equivalent plastic strain [MPa]; 0 for a table, which has none at its points
};
/// Of a law that moves the yield surface: stress of the tensile test.
/// @throws std::invalid_argument if the points of a table do not make a curve
FlowStress flow_stress(const Hardening& hardening, double equivalent_plastic_strain);

/// True uniform strain of the tensile test: plastic strain at the greatest load, where slope equals stress
/// (Considere 1885). 0 if the sheet necks at yield.
/// @throws std::invalid_argument if the points of a table do not make a curve
double uniform_strain(const Hardening& hardening);

/// Ratios of width to thickness strain in tension at 0, 45 and 90 degrees to the rolling direction; each > 0,
/// all 1: no anisotropy.
struct RValues {
  double r0 = 1, r45 = 1, r90 = 1;
};

/// Coefficients of the yield condition Yld2000-2d (yld2000.hpp); all 1: isotropic, with exponent 2 von Mises.
struct Yld2000 {
  double exponent =
      8;  ///< a, >= 2; 6 for body-centred, 8 for face-centred cubic metals (Barlat and others 2003)
  std::array<double, 8> alpha = {1, 1, 1, 1, 1, 1, 1, 1};  ///< alpha1 to alpha8, > 0
};

/// Tests to which the coefficients are fitted (yld2000_fit.hpp): tension at 0, 45 and 90 degrees to rolling,
/// then equibiaxial tension.
struct Yld2000Tests {
  double exponent = 8;  ///< a, >= 2
  std::array<double, 4> yield_ratios = {1, 1, 1,
                                        1};       ///< yield stress over the hardening law's flow stress, > 0
  std::array<double, 4> r_values = {1, 1, 1, 1};  ///< width over thickness strain, equibiaxial: e22/e11; > 0
};

struct VonMises {};
using YieldCondition = std::variant<VonMises, RValues, Yld2000, Yld2000Tests>;
/// Von Mises or Hill: a square form of the stress.
bool is_quadratic(const YieldCondition& yield);

/// The sheet: isotropic elasticity, yield of von Mises, Hill (1948) or Yld2000-2d; hardening isotropic, or
/// kinematic by backstress over the hardening law or by two surfaces.
struct SheetMaterial {
  std::string name;
  std::string source;         ///< where the constants come from, printed with results
  std::string grade;          ///< measured certificate | measured publication | handbook typical | guessed
  double youngs_modulus = 0;  ///< [MPa]
  double poissons_ratio = 0;  ///< 0 <= nu < 0.5
  Hardening hardening;        ///< along the rolling direction where the yield condition is not von Mises
  YieldCondition yield = {};  ///< RValues: Hill (1948), see hill_1948.hpp
  std::vector<BackstressTerm> backstress = {};  ///< at most 3, over a law of isotropic hardening
  std::optional<FallingModulus> falling_modulus = std::nullopt;
  std::optional<StrainRate> strain_rate = std::nullopt;
  bool isotropic = false;  ///< the tension curve hardens isotropically, whatever moves the yield surface
};

/// Whether there are constants that move the yield surface: backstress or two surfaces.
bool has_kinematic_constants(const SheetMaterial& material);

/// Whether the yield surface moves: it has constants for that, and isotropic hardening is not asked for.
bool hardens_kinematically(const SheetMaterial& material);

/// What its strain rates multiply the flow stress by; 1 where none are given.
double rate_factor(const SheetMaterial& material);

/// m of its flow stress; 0 where none is given.
double rate_exponent(const SheetMaterial& material);

/// What yields and hardens in the press: the sheet with its strain-rate factor in the constants, and where
/// isotropic hardening takes the place of kinematic constants, with their tension curve and without them. A
/// falling modulus stays.
SheetMaterial acting_sheet(const SheetMaterial& material);

/// Flow stress in tension along rolling without reversal: that of the hardening law, and what backstress
/// adds, at the strain rate of the press. Where that is no law, a table of points close enough for 1e-4 of
/// the stress.
/// @throws std::invalid_argument if the points of a table do not make a curve
Hardening tension_curve(const SheetMaterial& material);

/// @throws std::invalid_argument naming the first constant that is out of range
void require_sound(const SheetMaterial& material);

}  // namespace halftool::solver
