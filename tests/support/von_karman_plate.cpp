#include "tests/support/von_karman_plate.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace halftool::test {
namespace {

// Lengths over a, deflection over h, tension over E h^3 / a^2. Unknowns: slope at the cells' ends 1 .. n - 1
// (0 at centre and edge), then radial tension at 0 .. n.
struct Plate {
  int n;
  double load;
  double nu;

  [[nodiscard]] int size() const { return 2 * n; }
  [[nodiscard]] int slope(int i) const { return i - 1; }
  [[nodiscard]] int tension(int i) const { return n - 1 + i; }
  [[nodiscard]] double slope_at(const Eigen::VectorXd& y, int i) const {
    return i == 0 || i == n ? 0.0 : y(slope(i));
  }
};

struct System {
  Eigen::VectorXd residual;
  Eigen::MatrixXd tangent;
};

// Bending: D (s'' + s'/r - s/r^2) = N s + P r / 2.
void add_bending(const Plate& plate, const Eigen::VectorXd& y, System& system) {
  const double cell = 1.0 / plate.n;
  const double stiffness = 1 / (12 * (1 - plate.nu * plate.nu)) / (cell * cell);
  for (int i = 1; i < plate.n; ++i) {
    const int row = plate.slope(i);
    const double s = y(row);
    const double tension = y(plate.tension(i));
    const double up = stiffness * (1 + 0.5 / i);
    const double down = stiffness * (1 - 0.5 / i);
    const double here = -stiffness * (2 + 1.0 / (i * i));
    system.residual(row) = up * plate.slope_at(y, i + 1) + down * plate.slope_at(y, i - 1) + here * s -
                           tension * s - 0.5 * plate.load * cell * i;
    if (i + 1 < plate.n) system.tangent(row, plate.slope(i + 1)) = up;
    if (i > 1) system.tangent(row, plate.slope(i - 1)) = down;
    system.tangent(row, row) = here - tension;
    system.tangent(row, plate.tension(i)) = -s;
  }
}

// Stretching: N'' + 3 N' / r = -(s/r)^2 / 2; N' = 0 at the centre, N' + (1 - nu) N = 0 at the edge, which
// does not move.
void add_stretching(const Plate& plate, const Eigen::VectorXd& y, System& system) {
  const double cell = 1.0 / plate.n;
  const double unit = 1 / (cell * cell);
  for (int i = 0; i <= plate.n; ++i) {
    const int row = plate.tension(i);
    const double slope = plate.slope_at(y, i);
    double up = unit * (1 + 1.5 / std::max(i, 1));
    double down = unit * (1 - 1.5 / std::max(i, 1));
    double here = -2 * unit;
    if (i == 0) {  // 4 N'' = -s'^2 / 2 by symmetry
      up = 8 * unit;
      down = 0;
      here = -8 * unit;
      const double slope_change = y(plate.slope(1)) / cell;
      system.residual(row) = 0.5 * slope_change * slope_change;
      system.tangent(row, plate.slope(1)) = slope_change / cell;
    } else if (i == plate.n) {  // a point beyond the edge, taken out by its condition
      here -= up * 2 * cell * (1 - plate.nu);
      down += up;
      up = 0;
    } else {
      const double r = cell * i;
      system.residual(row) = 0.5 * slope * slope / (r * r);
      system.tangent(row, plate.slope(i)) = slope / (r * r);
    }
    system.residual(row) += here * y(row);
    system.tangent(row, row) = here;
    if (i < plate.n) system.residual(row) += up * y(row + 1);
    if (i < plate.n) system.tangent(row, row + 1) = up;
    if (i > 0) system.residual(row) += down * y(row - 1);
    if (i > 0) system.tangent(row, row - 1) = down;
  }
}

Eigen::VectorXd solve(const Plate& plate, Eigen::VectorXd y) {
  for (int iteration = 0; iteration < 30; ++iteration) {
    System system{Eigen::VectorXd::Zero(plate.size()), Eigen::MatrixXd::Zero(plate.size(), plate.size())};
    add_bending(plate, y, system);
    add_stretching(plate, y, system);
    const Eigen::VectorXd change = -system.tangent.partialPivLu().solve(system.residual);
    y += change;
    if (change.norm() <= 1e-10 * y.norm()) return y;
  }
  throw std::runtime_error("von_karman_plate: no solution found");
}

}  // namespace

double VonKarmanPlate::radial_at(double share) const {
  const auto cells = static_cast<int>(radial.size()) - 1;
  const int cell = std::clamp(static_cast<int>(share * cells), 0, cells - 1);
  const double within = share * cells - cell;
  return (1 - within) * radial(cell) + within * radial(cell + 1);
}

VonKarmanPlate von_karman_plate(double load, double poissons_ratio, int cells) {
  Eigen::VectorXd y = Eigen::VectorXd::Zero(2 * cells);
  for (double now = std::min(load, 1.0);; now = std::min(load, 3 * now)) {
    y = solve({cells, now, poissons_ratio}, y);
    if (now == load) return {-y.head(cells - 1).sum() / cells, y.tail(cells + 1)};
  }
}

VonKarmanPlate von_karman_plate(double load, double poissons_ratio) {
  constexpr int kCells = 100;
  const VonKarmanPlate coarse = von_karman_plate(load, poissons_ratio, kCells);
  const VonKarmanPlate fine = von_karman_plate(load, poissons_ratio, 2 * kCells);
  const Eigen::VectorXd same_points = fine.radial(Eigen::seqN(0, kCells + 1, 2));
  return {(4 * fine.deflection - coarse.deflection) / 3, (4 * same_points - coarse.radial) / 3};
}

}  // namespace halftool::test
