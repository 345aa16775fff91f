#pragma once
#include <Eigen/Core>

namespace halftool::solver {

/// Penalty contact with Coulomb friction between the sheet's tool face and the rigid tool.
struct ContactLaw {
  double stiffness = 0;   ///< contact pressure per penetration [MPa/mm], > 0
  double friction = 0;    ///< Coulomb coefficient, >= 0
  double slip_limit = 0;  ///< elastic slip at which friction is fully mobilised [mm], > 0
  /// A point that touched at the last accepted state and stands off by less than this is kept on the tool, as
  /// if the penalty could pull, without friction [mm], >= 0. For corrections from a guess only; 0: off
  double kept_within = 0;
};

/// Memory of one contact point.
struct FrictionState {
  Eigen::Vector3d slip = Eigen::Vector3d::Zero();  ///< elastic slip [mm], tangential, |slip| <= slip_limit
  bool touching = false;                           ///< in contact at the last accepted state

  template <class Archive>
  void serialize(Archive& archive) {
    archive(slip, touching);
  }
};

/// Where the contact point stands: gap of the tool face, tool normal and how it turns.
struct ContactPlace {
  double gap = 0;                   ///< [mm], < 0 penetrates
  Eigen::Vector3d normal;           ///< unit, out of the tool
  Eigen::Matrix3d normal_gradient;  ///< d normal / d x, symmetric [1/mm]
};

/// Traction of the tool on the sheet.
struct ContactTraction {
  Eigen::Vector3d traction = Eigen::Vector3d::Zero();   ///< [MPa] force per area on the sheet
  Eigen::Matrix3d stiffness = Eigen::Matrix3d::Zero();  ///< -d traction / d x, symmetric part [MPa/mm]
  double pressure = 0;                                  ///< normal part [MPa], < 0 where a point is kept
  double dissipation = 0;                               ///< of friction in this increment [N mm/mm2]
  FrictionState state;                                  ///< trial
};

/// @param motion     displacement of the point since the last accepted state [mm]
/// @param committed  memory at the last accepted state
/// The stick stiffness is friction * pressure / slip_limit, so that stick means the same slip at any
/// pressure. The dependence of friction on the trial pressure is in the traction but left out of the
/// (symmetric) stiffness.
ContactTraction contact_traction(const ContactLaw& law, const ContactPlace& place,
                                 const Eigen::Vector3d& motion, const FrictionState& committed);

}  // namespace halftool::solver
