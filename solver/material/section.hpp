#pragma once
#include <Eigen/Core>
#include <memory>
#include <variant>

#include "solver/material/hill_1948.hpp"
#include "solver/material/sheet_material.hpp"
#include "solver/material/stress_update.hpp"
#include "solver/material/yld2000.hpp"

namespace halftool::solver {

struct KinematicMetal;

/// State of the metal at one point through the thickness.
struct PointState {
  Eigen::Vector3d plastic_strain = Eigen::Vector3d::Zero();  ///< logarithmic [11, 22, 2*12], material frame
  double equivalent_plastic_strain = 0;

  template <class Archive>
  void serialize(Archive& archive) {
    archive(plastic_strain, equivalent_plastic_strain);
  }
};

/// What the points of a section remember beyond PointState, Section::n_history() values each; not set where
/// that is 0.
struct SectionHistory {
  const double* committed = nullptr;  ///< of the last accepted increment
  double* trial = nullptr;            ///< of this increment, written
};

/// What drives a section: strains of the mid-surface and the fluid's and the tool's pressure on its faces.
struct SectionStrain {
  Eigen::Vector3d membrane =
      Eigen::Vector3d::Zero();  ///< Green-Lagrange [E11, E22, 2 E12] of the mid-surface
  Eigen::Vector3d curvature =
      Eigen::Vector3d::Zero();  ///< [k11, k22, 2 k12] [1/mm], see the layer metric below
};
/// Quantities that are held fixed within an increment.
struct SectionFrozen {
  double initial_thickness = 0;  ///< t0 [mm]; resultants are per reference area, dz0 = t0 dzeta
  double thickness = 0;  ///< current t at the last accepted state [mm]; z = zeta t, -1/2 <= zeta <= 1/2
  Eigen::Vector3d inverse_metric{1, 1, 0};  ///< [A11, A22, A12] of A = (I + 2E)^-1 at the last accepted state
  double outer_pressure = 0;                ///< on the pad face, zeta = +1/2 [MPa], >= 0
  double inner_pressure = 0;                ///< on the tool face, zeta = -1/2 [MPa], >= 0
  bool elastic = false;                     ///< suppress plastic flow (verification of the elastic shell)
};

/// Resultants are conjugate to (membrane, curvature): work per reference area = N . dE + M . dk.
struct SectionResponse {
  Eigen::Matrix<double, 6, 1> resultant;  ///< [N11, N22, N12 [N/mm], M11, M22, M12 [N]]
  Eigen::Matrix<double, 6, 6> tangent;    ///< consistent, symmetric
  double thickness_strain = 0;            ///< mean ln(t/t0) through the thickness, elastic part included
  double elastic_energy = 0;              ///< stored, per reference area [N/mm], work of s33 included
  double plastic_work =
      0;  ///< dissipated since the virgin state, per reference area [N/mm]; a function of state
};

/// Strain and stress at a face or at the middle, for results.
struct SectionPoint {
  Eigen::Vector3d strain;    ///< logarithmic [11, 22, 2*12], material frame
  Eigen::Vector3d stress;    ///< Kirchhoff [11, 22, 12] [MPa], conjugate to strain, s33 part included
  double normal_stress = 0;  ///< s33 [MPa]
  double equivalent_plastic_strain = 0;  ///< linear between and beyond layers, not below 0
  double von_mises = 0;                  ///< [MPa]
};

/// Logarithmic strain [11, 22, 2*12] of the layer at height z [mm].
/// @throws std::invalid_argument  a layer metric that is not positive definite
Eigen::Vector3d layer_strain(const SectionStrain& strain, const SectionFrozen& frozen, double z);

/// Elastic-plastic response of the sheet over its thickness: Gauss points, logarithmic strain (Miehe, Apel
/// and Lambrecht 2002) of the layer metric C(z) = I + 2E - 2 z k + z^2 k A k, plane state with prescribed
/// normal stress, linear between the faces from -inner_pressure to -outer_pressure. Yield of von Mises, Hill
/// (1948) or Yld2000-2d, hardening isotropic or kinematic, as the material says.
class Section {
 public:
  /// @param n_points  Gauss points through the thickness, 1 to 99
  /// @throws std::invalid_argument naming the value if a constant of the material or n_points is out of range
  Section(const SheetMaterial& material, int n_points);

  [[nodiscard]] int n_points() const { return static_cast<int>(zeta_.size()); }
  /// Values that each point remembers beyond PointState; 0 with isotropic hardening and a constant modulus,
  /// all 0 in the virgin sheet.
  [[nodiscard]] int n_history() const;
  [[nodiscard]] const Eigen::VectorXd& zeta() const { return zeta_; }  ///< (n_points) in (-1/2, 1/2)
  [[nodiscard]] const SheetMaterial& material() const { return material_; }

  /// @param committed  n_points states of the last accepted increment; not changed
  /// @param trial      n_points states of this increment, written
  /// @return false if a layer's metric is not positive definite or its return map did not converge (the
  /// caller cuts)
  bool respond(const SectionStrain& strain, const SectionFrozen& frozen, const PointState* committed,
               PointState* trial, SectionResponse& response, const SectionHistory& history = {}) const;

  /// Strain and stress at zeta (-1/2 tool face, 0, +1/2 pad face), from accepted states. The strain is exact.
  /// The stress is linear through the two nearest layers, where elastic strain varies little while total and
  /// plastic strain vary much, and is kept within the yield surface; it follows from the strain where both
  /// layers are virgin.
  /// @param history  (n_points * n_history()) accepted
  [[nodiscard]] SectionPoint sample(const SectionStrain& strain, const SectionFrozen& frozen,
                                    const PointState* accepted, double at_zeta,
                                    const double* history = nullptr) const;

 private:
  SheetMaterial material_;
  PlaneModuli moduli_;
  std::variant<PlaneModuli, HillPlane, YldPlane> yield_;  // the first: von Mises
  FlowCurve curve_;                                       // of two surfaces: that of the tensile test
  std::shared_ptr<const KinematicMetal> kinematic_;       // none: isotropic hardening and a constant modulus
  Eigen::VectorXd zeta_;
  Eigen::VectorXd weight_;
};

}  // namespace halftool::solver
