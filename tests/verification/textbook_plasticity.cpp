#include "tests/verification/textbook_plasticity.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/material/stress_update.hpp"

namespace halftool::test {
namespace {

using Eigen::Vector3d;
using solver::PointStress;
using solver::SwiftHardening;
using solver::VoceHardening;

const solver::PlaneModuli kRigid(1e10, 0.3);

/// Rigid-plastic limit of one proportional step to principal strains e1, e2.
template <class Curve>
PointStress rigid_plastic(const Curve& curve, double e1, double e2) {
  PointStress point;
  if (!solver::update_stress(kRigid, curve, solver::strain_coordinates({e1, e2, 0}), Vector3d::Zero(), 0, 0,
                             point))
    throw std::runtime_error("textbook exercise: no stress");
  return point;
}

double thickness_of(const PointStress& point, double initial) {
  return initial * std::exp(solver::thickness_strain(kRigid, point, 0));
}

void add_exercise_21(std::vector<Printed>& all) {
  const std::string name = "Marciniak, Duncan and Hu 2.1";
  const SwiftHardening curve{600, 0.008, 0.22};
  const PointStress p = rigid_plastic(curve, std::log(9.4 / 8), std::log(6.5 / 8));
  const Vector3d s = solver::voigt_stress(p.stress);
  const double mean = (s[0] + s[1]) / 3;
  const double work = solver::plastic_work(curve, p.equivalent_plastic_strain, p.flow_stress,
                                           solver::flow_stress(curve, 0).stress);
  all.push_back({name, "effective strain", p.equivalent_plastic_strain, 0.218, 0.0005});
  all.push_back({name, "effective stress [MPa]", p.flow_stress, 432.6, 0.1});
  all.push_back({name, "stress along [MPa]", s[0], 152.0, 0.1});
  all.push_back({name, "stress across [MPa]", s[1], -336.0, 0.1});
  all.push_back({name, "mean stress [MPa]", mean, -61.3, 0.1});
  all.push_back({name, "deviator along [MPa]", s[0] - mean, 213.3, 0.1});
  all.push_back({name, "deviator across [MPa]", s[1] - mean, -274.7, 0.1});
  all.push_back({name, "thickness [mm]", thickness_of(p, 0.8), 0.838, 0.0005});
  all.push_back({name, "work [mJ/mm3]", work, 78.8, 0.05});
}

void add_exercise_31(std::vector<Printed>& all) {
  const std::string name = "Marciniak, Duncan and Hu 3.1";
  const PointStress p = rigid_plastic(SwiftHardening{600, 1e-9, 0.22}, std::log(6.1 / 5), std::log(4.8 / 5));
  const Vector3d s = solver::voigt_stress(p.stress);
  const double thickness = thickness_of(p, 0.8);
  all.push_back({name, "effective strain", p.equivalent_plastic_strain, 0.210, 0.0005});
  all.push_back({name, "effective stress [MPa]", p.flow_stress, 425.7, 0.1});
  all.push_back({name, "major stress [MPa]", s[0], 482.1, 0.1});
  all.push_back({name, "ratio of stresses", s[1] / s[0], 0.328, 0.0005});
  all.push_back({name, "major tension [N/mm]", s[0] * thickness, 329.3, 0.1});
  all.push_back({name, "minor tension [N/mm]", s[1] * thickness, 108.2, 0.1});
}

void add_exercise_33(std::vector<Printed>& all) {
  const double rows[3][5] = {
      {0.015, 0.015, 0.485, 300.0, 146}, {0.05, 0, 0.476, 346.4, 165}, {0.15, -0.10, 0.476, 261.9, 125}};
  const char* const names[3] = {"Marciniak, Duncan and Hu 3.3 a", "Marciniak, Duncan and Hu 3.3 b",
                                "Marciniak, Duncan and Hu 3.3 c"};
  for (int i = 0; i < 3; ++i) {
    const PointStress p = rigid_plastic(VoceHardening{300, 300, 0}, rows[i][0], rows[i][1]);
    const double thickness = thickness_of(p, 0.5);
    const double major = solver::voigt_stress(p.stress)[0];
    all.push_back({names[i], "thickness [mm]", thickness, rows[i][2], 0.0005});
    all.push_back({names[i], "major stress [MPa]", major, rows[i][3], 0.05});
    all.push_back({names[i], "major tension [N/mm]", major * thickness, rows[i][4], 0.6});
  }
}

}  // namespace

std::vector<Printed> textbook_exercises() {
  std::vector<Printed> all;
  add_exercise_21(all);
  add_exercise_31(all);
  add_exercise_33(all);
  // Yield stress of the tube 25 MPa; the printed answer is hoop 26.14 and axial 2.46 MPa.
  const double yield = solver::von_mises({26.14 + 2.46, 26.14 - 2.46, 0}, 0);
  all.push_back({"Hosford and Caddell 2.2", "von Mises stress of the printed answer [MPa]", yield, 25, 0.01});
  return all;
}

}  // namespace halftool::test
