#include "solver/assessment/forming_limit.hpp"

#include <algorithm>
#include <cmath>

namespace halftool::solver {

FormingLimit estimated_limit(const SheetMaterial& material, double thickness) {
  const double exponent = std::min(uniform_strain(tension_curve(material)), 0.21);
  FormingLimit limit;
  limit.thickness_capped = thickness > 3;
  const double percent = (23.3 + 14.13 * std::min(thickness, 3.0)) * exponent / 0.21;
  limit.plane_strain = std::log1p(percent / 100);
  return limit;
}

double limit_major(const FormingLimit& limit, double minor) {
  return minor <= 0 ? limit.plane_strain - minor : limit.plane_strain + limit.right_slope * minor;
}

double limit_share(const FormingLimit& limit, double major, double minor) {
  if (major <= 0 || limit.plane_strain <= 0) return 0;
  const double path = std::max(minor / major, -1.0);  // beyond -1 the sheet thickens as it stretches
  // on the path minor = path * major the curve is met where major * (1 - slope * path) = plane_strain
  const double slope = path <= 0 ? -1.0 : limit.right_slope;
  return major * (1 - slope * path) / limit.plane_strain;
}

Eigen::VectorXd limit_shares(const FormingLimit& limit, const SheetFields& fields) {
  Eigen::VectorXd shares(fields.strain_mid.rows());
  for (Eigen::Index t = 0; t < shares.size(); ++t)
    shares(t) = limit_share(limit, fields.strain_mid(t, 0), fields.strain_mid(t, 1));
  return shares;
}

}  // namespace halftool::solver
