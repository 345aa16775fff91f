#pragma once
#include <vector>

#include "solver/material/section.hpp"

namespace halftool::solver {

/// A strip of unit width bent about axis 2 with the pad face convex, its net force held at zero; what an
/// element of constant curvature sees. Physical force and moment follow from the resultants by virtual work
/// with the mid-surface stretch m and the turn per reference length w: E11 = (m^2 - 1)/2, k11 = -m w.
class SectionBend {
 public:
  SectionBend(const SheetMaterial& material, int n_points, double thickness);

  /// Bends the flat or straightened strip to a radius in equal increments with the pressures in proportion;
  /// returns the moment [N mm/mm].
  /// @throws std::runtime_error if the balance of forces is not found
  double bend(double radius, int n_steps, double outer = 0, double inner = 0);

  /// Bends the formed strip flat again; returns the moment, below zero.
  /// @throws std::runtime_error if the balance of forces is not found
  double straighten(int n_steps);

  /// Takes moment and pressures away; returns the share of the turn that opens (of a
  /// straightened strip, which has none, see turn()).
  /// @throws std::runtime_error if the balance of forces is not found
  double release(double outer = 0, double inner = 0);

  [[nodiscard]] double thickness() const { return frozen_.thickness; }
  [[nodiscard]] double turn() const { return turn_; }  ///< rotation per reference length [1/mm]

 private:
  Section section_;
  SectionFrozen frozen_;
  std::vector<PointState> committed_, trial_;
  std::vector<double> history_, trial_history_;
  double plate_;
  double mid_ = 1, turn_ = 0;
  double force_ = 0, moment_ = 0;
  double formed_turn_ = 0, formed_moment_ = 0;
  bool thickness_settled_ = false;

  [[nodiscard]] double t0() const { return frozen_.initial_thickness; }
  void set_pressures(double outer, double inner);
  void balance_at(double curvature);
  void evaluate();
  [[nodiscard]] bool balanced(double moment_miss, int iteration) const;
  void accept() {
    committed_ = trial_;
    history_ = trial_history_;
  }
};

}  // namespace halftool::solver
