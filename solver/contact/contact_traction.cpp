#include "solver/contact/contact_traction.hpp"

namespace halftool::solver {
namespace {

// What slid is remembered this share within the slip limit. It rests at the start of the next increment,
// where rounding would else decide between the tangents of stick and slip. Far above the rounding of a slip,
// below the tolerance of any balance.
constexpr double kWithinLimit = 1e-9;

// Elastic-slip Coulomb friction by radial return (common practice, e.g. Wriggers 2006, ch. 5): trial slip
// carried into the present tangent plane, cut back to the slip limit.
void add_friction(const ContactLaw& law, const ContactPlace& place, const Eigen::Vector3d& motion,
                  const FrictionState& committed, ContactTraction& out) {
  const Eigen::Vector3d& n = place.normal;
  const Eigen::Matrix3d tangential = Eigen::Matrix3d::Identity() - n * n.transpose();
  const Eigen::Vector3d trial = tangential * (motion + committed.slip);
  const double length = trial.norm();
  const double limit = law.friction * out.pressure;
  if (length <= law.slip_limit) {
    const double stick = limit / law.slip_limit;
    out.state.slip = trial;
    out.traction -= stick * trial;
    out.stiffness += stick * tangential;
    return;
  }
  const Eigen::Vector3d direction = trial / length;
  out.state.slip = (1 - kWithinLimit) * law.slip_limit * direction;
  out.traction -= limit * direction;
  out.stiffness += limit / length * (tangential - direction * direction.transpose());
  out.dissipation = limit * (length - law.slip_limit);
}

}  // namespace

ContactTraction contact_traction(const ContactLaw& law, const ContactPlace& place,
                                 const Eigen::Vector3d& motion, const FrictionState& committed) {
  ContactTraction out;
  const bool touching = place.gap < 0;
  if (!touching && !(committed.touching && place.gap < law.kept_within)) return out;
  out.pressure = -law.stiffness * place.gap;
  out.state.touching = touching;
  out.traction = out.pressure * place.normal;
  out.stiffness =
      law.stiffness * (place.normal * place.normal.transpose() + place.gap * place.normal_gradient);
  if (touching && law.friction > 0) add_friction(law, place, motion, committed, out);
  return out;
}

}  // namespace halftool::solver
