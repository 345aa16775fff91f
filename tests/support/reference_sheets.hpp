#pragma once
#include "solver/material/sheet_material.hpp"

namespace halftool::test {

// The sheets of the bending tables (MPa). Mild steel and aluminium: NUMISHEET'93, from memory; AA6016-T4: the
// material of the ESAFORM 2021 cup benchmark, as a public data set gives it; the perfectly plastic one: a
// textbook exercise.
inline solver::SheetMaterial perfect() {
  return {"", "", "", 70000, 0.3, solver::VoceHardening{250, 250, 0}};
}
inline solver::SheetMaterial mild_steel() {
  return {"", "", "", 206000, 0.3, solver::SwiftHardening{565.32, 0.007117, 0.2589}};
}
inline solver::SheetMaterial soft_aluminium() {
  return {"", "", "", 71000, 0.33, solver::SwiftHardening{576.79, 0.01658, 0.3593}};
}
inline solver::SheetMaterial aa6016() {
  return {"", "", "", 70000, 0.33, solver::VoceHardening{140.2, 330.2, 12.4}};
}
/// The sheet of case straight_flange: Kalpakjian and Schmid, table 2.3; pre-strain from a first yield of 55
/// MPa.
inline solver::SheetMaterial aa6061_o() {
  return {"", "", "", 69000, 0.33, solver::SwiftHardening{205, 0.00139, 0.20}};
}

}  // namespace halftool::test
