#pragma once
#include <Eigen/Core>
#include <string>
#include <vector>

#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// A point of a loop in tension and compression.
struct LoopPoint {
  double strain = 0;    ///< logarithmic
  double stress = 0;    ///< [MPa]
  double flow_sum = 0;  ///< equivalent plastic strain
};

/// Uniaxial path of logarithmic strain: from 0 to each corner in turn.
using Corners = std::vector<double>;

/// What the solver's section gives, one increment from point to point. @param n  points a leg
std::vector<LoopPoint> section_loop(const solver::SheetMaterial& material, const Corners& corners, int n);

/// The published rate equations in tension and compression, by Euler's method in n_substeps a leg; shares no
/// code with the solver but the size of the yield surface under backstress. Backstress: Frederick and
/// Armstrong (2007), Chaboche (1986). Two surfaces: Yoshida and Uemori (2002). Modulus: Yoshida, Uemori and
/// Fujiwara (2002), stress following the strain with the modulus of the moment.
std::vector<LoopPoint> integrated_loop(const solver::SheetMaterial& material, const Corners& corners, int n,
                                       int n_substeps);

/// Lemaitre and Chaboche, Mechanics of solid materials (1990), section 5.4: on each leg of direction v
/// X = v C/g + (X0 - v C/g) exp(-v g (e_p - e_p0)), stress = X + v size; at the plastic strains of a loop.
/// @return largest difference of stress over the largest stress
double closed_form_miss(const solver::SheetMaterial& material, const std::vector<LoopPoint>& loop);

/// Largest difference of stress between two loops over the largest stress of the second.
double loop_miss(const std::vector<LoopPoint>& loop, const std::vector<LoopPoint>& reference);

/// Plastic strain gained in a cycle of stress between unlike limits under one term of backstress and constant
/// size k, closed form (Lemaitre and Chaboche 1990, section 5.4):
/// ln[((C/g)^2 - (low + k)^2) / ((C/g)^2 - (high - k)^2)] / g.
double ratchet_step(const solver::SheetMaterial& material, double low, double high);
/// The same of the solver's section, in the third cycle.
double section_ratchet_step(const solver::SheetMaterial& material, double low, double high);

/// Plane stress at the corners of a path of strain [11, 22, 2*12] under von Mises: the solver's section with
/// increments a leg, and the published rate equations in full tensors by Euler's method.
using StrainPath = std::vector<Eigen::Vector3d>;
std::vector<Eigen::Vector3d> section_path(const solver::SheetMaterial& material, const StrainPath& path,
                                          int n);
std::vector<Eigen::Vector3d> integrated_path(const solver::SheetMaterial& material, const StrainPath& path,
                                             int n_substeps);
double path_miss(const std::vector<Eigen::Vector3d>& stress, const std::vector<Eigen::Vector3d>& reference);
/// Stretch, then shear, then across, then back: every change of direction that a bend, an unbend and a draw
/// make.
StrainPath turning_path();

/// A strip bent, bent flat and bent again to one radius.
struct BentAgain {
  double moment = 0, flat_moment = 0, again_moment = 0;  ///< [N mm/mm]
  double springback = 0;                                 ///< after the second bend, share of the turn
};
BentAgain section_bent_again(const solver::SheetMaterial& material, double thickness, double radius,
                             int n_points);
/// @param n_fibres, n_steps  of fibre_bending.hpp
BentAgain fibres_bent_again(const solver::SheetMaterial& material, double thickness, double radius,
                            int n_fibres, int n_steps);

}  // namespace halftool::test
