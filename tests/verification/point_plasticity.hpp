#pragma once
#include <Eigen/Core>
#include <array>
#include <vector>

#include "solver/material/hill_1948.hpp"
#include "solver/material/sheet_material.hpp"

namespace halftool::test {

/// Sheets of the tests at a point: mild steel under von Mises yield, the same under Hill's (NUMISHEET'93,
/// from memory), AA6022-T4 under Hill's (Tian and others 2016, as a public data set gives it), AA2090-T3 and
/// DP780 under Yld2000-2d (yld2000_sheets.hpp; hardening invented).
struct PointSheet {
  const char* name;
  solver::SheetMaterial material;

  /// Of a sheet under Hill's condition; those of von Mises under any other.
  [[nodiscard]] solver::HillConstants constants() const;
};
const std::vector<PointSheet>& point_sheets();
/// Equivalent stress of x = [s11 - s33, s22 - s33, s12]; shares no code with the solver.
double equivalent_stress(const PointSheet& sheet, const Eigen::Vector3d& x);

/// Stress paths with one direction of stress relative to the normal stress, axis 1 along rolling.
struct PointPath {
  const char* name;
  Eigen::Vector3d stress;  ///< direction of [s11 - s33, s22 - s33, s12]
  Eigen::Vector3d gauge;   ///< strain that counts: gauge . [e11, e22, 2 e12] is driven
};
/// Uniaxial at 0, 45 and 90 degrees, plane strain (no plastic strain across), equibiaxial, shear.
std::vector<PointPath> point_paths(const PointSheet& sheet);
/// Tension at an angle to rolling [rad].
PointPath tension(double angle);

/// A point of the sheet.
struct PointEnd {
  Eigen::Vector3d stress{0, 0, 0};   ///< [11, 22, 12] [MPa]
  Eigen::Vector3d strain{0, 0, 0};   ///< total [11, 22, 2*12]
  Eigen::Vector3d plastic{0, 0, 0};  ///< [11, 22, 2*12]
  double equivalent = 0;             ///< plastic strain
  double thickness_strain = 0;
  double elastic_energy = 0, plastic_work = 0;  ///< [MPa]
  double work = 0;  ///< done since the virgin state, s33 included, by the trapezoidal rule [MPa]
};

/// The exact end of a path where the driven strain has a given value: the elastic and the plastic part both
/// follow from the one unknown, the equivalent plastic strain, found by bisection.
PointEnd exact_end(const PointSheet& sheet, const PointPath& path, double driven, double normal_stress);

/// The same by the solver's stress update: the strain is driven in n steps that grow linearly, the components
/// of stress off the path are held at zero by Newton's method on the consistent tangent.
/// @throws std::runtime_error if the stress is not found
PointEnd drive(const PointSheet& sheet, const PointPath& path, double driven, double normal_stress,
               int n_steps);

/// Total strain driven along a straight line [e11, e22, 2 e12] in n equal steps by the solver's stress
/// update.
PointEnd drive_strain(const PointSheet& sheet, const Eigen::Vector3d& strain, int n_steps);
/// The same by the rate equations of plasticity (Hill 1950), classical Runge-Kutta in n steps; shares no code
/// with the solver but the flow stress.
PointEnd integrate_strain(const PointSheet& sheet, const Eigen::Vector3d& strain, int n_steps);

/// Yield stress over that along rolling, and r-value, in tension at 0, 15, ..., 90 degrees: AA6022-T4 under
/// Hill's condition, worked out by hand from the formulas (closed form).
struct HillAngle {
  double degrees, stress, r;
};
extern const std::array<HillAngle, 7> kHillAA6022;

}  // namespace halftool::test
