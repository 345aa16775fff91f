#pragma once
#include "solver/material/sheet_material.hpp"

namespace halftool::test {

// Sheets with published constants of cyclic plasticity (MPa).

/// Stainless steel 316L at 20 C, one term over a constant yield stress: Lemaitre and Chaboche (1990), ch. 5,
/// from memory.
inline solver::SheetMaterial chaboche_steel() {
  solver::SheetMaterial material{"", "", "", 196000, 0.3, solver::VoceHardening{300, 300, 0}};
  material.backstress = {{30000, 60}};
  return material;
}
/// Three terms, one of them straight, over a hardening size; invented.
inline solver::SheetMaterial three_term_steel() {
  solver::SheetMaterial material{"", "", "", 200000, 0.3, solver::VoceHardening{200, 260, 8}};
  material.backstress = {{40000, 500}, {6000, 40}, {300, 0}};
  return material;
}
/// DP780, 1.2 mm class: a public data set of the Graduate Institute of Ferrous Technology, POSTECH.
inline solver::SheetMaterial dp780() {
  return {"",
          "",
          "",
          200000,
          0.33,
          solver::YoshidaUemoriHardening{.yield = 337,
                                         .bound = 620,
                                         .bound_shift = 202,
                                         .bound_gain = 190,
                                         .bound_rate = 34,
                                         .approach = 500,
                                         .stagnation = 0.772}};
}
/// The same with yield, approach, and the shares of shift and gain in the bound's 392 MPa fitted to the test
/// of measured_loops.hpp.
inline solver::SheetMaterial dp780_fitted() {
  solver::SheetMaterial material = dp780();
  auto& two = std::get<solver::YoshidaUemoriHardening>(material.hardening);
  two.yield = 380;
  two.bound_shift = 280;
  two.bound_gain = 112;
  two.approach = 350;
  return material;
}
/// AA6022: own fit to the test of measured_loops.hpp, and beyond it to the law of tension given there.
inline solver::SheetMaterial aa6022() {
  solver::SheetMaterial material{"", "", "", 70000, 0.33, solver::VoceHardening{151.9, 322.5, 6.107}};
  material.backstress = {{30130, 525.8}, {428.5, 9.385}};
  return material;
}
/// Mild steel, falling modulus included: Yoshida, Uemori and Fujiwara (2002), second-hand; rate of the
/// modulus from memory.
inline solver::SheetMaterial mild_cyclic_steel() {
  solver::SheetMaterial material{"",
                                 "",
                                 "",
                                 206000,
                                 0.3,
                                 solver::YoshidaUemoriHardening{.yield = 124,
                                                                .bound = 168,
                                                                .bound_shift = 9,
                                                                .bound_gain = 190,
                                                                .bound_rate = 12,
                                                                .approach = 500,
                                                                .stagnation = 0.5}};
  material.falling_modulus = solver::FallingModulus{159000, 61};
  return material;
}

}  // namespace halftool::test
