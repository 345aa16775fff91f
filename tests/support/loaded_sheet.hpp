#pragma once
#include <Eigen/Core>
#include <functional>
#include <vector>

#include "mesh/blank.hpp"
#include "solver/assembly/balance.hpp"
#include "solver/assembly/sheet_model.hpp"
#include "solver/stepping/increment.hpp"

namespace halftool::test {

/// Clamps the border edges whose two ends are chosen (positions, turn and bow held); the others are free.
/// @param chosen  node number -> whether it belongs to the clamp
void clamp_border(mesh::Blank& blank, const std::function<bool(int)>& chosen);

/// Border edges whose two ends are chosen.
std::vector<int> border_edges(const mesh::Blank& blank, const std::function<bool(int)>& chosen);

/// The sheet without plastic flow. Stress is linear in the logarithmic strain, as
/// everywhere in the solver: at the strains of the benchmarks (below 3 percent) it cannot be told from other
/// linear laws. Three Gauss points: the stress is all but linear through the thickness.
/// @param bows  mid-side bows as unknowns, as in pressed parts; without: constant-strain membrane
solver::SheetModel elastic_model(const mesh::Blank& blank, double youngs_modulus, double poissons_ratio,
                                 bool bows = true);

/// A force on one node [N], (equations).
Eigen::VectorXd node_force(const solver::SheetModel& model, int node, const Eigen::Vector3d& force);

/// Nodal forces of a force per length along border edges, exact for displacements linear along an edge;
/// (equations).
/// @param traction  [N/mm], keeps its direction
Eigen::VectorXd edge_force(const solver::SheetModel& model, const std::vector<int>& edges,
                           const Eigen::Vector3d& traction);

/// Moments on the turns of border edges, (equations). A constant moment per length does its work on the mean
/// turn of the edge about itself, which is the turn of its mid-side normal as long as the edge keeps its
/// direction.
/// @param moment  [N] per length, about an axis close to that of the edges [unit vector times N]
Eigen::VectorXd edge_moment(const solver::SheetModel& model, const std::vector<int>& edges,
                            const Eigen::Vector3d& moment);

/// Equilibrium of a sheet without loads or tool whose held unknowns stand where `guess` has them.
/// @param tolerances  with a reference force, for there is no load
solver::IncrementResult solve_free(const solver::SheetModel& model, const solver::SheetState& committed,
                                   const solver::SheetPlace& guess, const solver::Tolerances& tolerances);

/// A sheet free of the tool that is led along its equilibrium path by loads which grow together.
class LoadedSheet {
 public:
  /// @param dead_load  (equations) at share 1; empty: none
  /// @param pressure   of the fluid on the +z face at share 1 [MPa], follows the sheet; not on cut edges
  LoadedSheet(const solver::SheetModel& model, Eigen::VectorXd dead_load, double pressure);
  LoadedSheet(const LoadedSheet&) = delete;
  LoadedSheet& operator=(const LoadedSheet&) = delete;

  /// Leads the sheet to a share of the loads, in as many increments as it takes.
  /// @throws std::runtime_error  no equilibrium found in increments of 1e-4
  void load_to(double share);

  /// Repeats the balance at the present loads until nothing moves any more: thickness and shape of the
  /// fluid's face, held within an increment, are then those of the present state.
  /// @param force_tolerance  over the load on the flat sheet
  /// @throws std::runtime_error  no end in 30 increments
  void settle(double force_tolerance);

  [[nodiscard]] const solver::SheetState& state() const { return state_; }
  [[nodiscard]] Eigen::Vector3d displacement(int node) const;
  [[nodiscard]] const solver::RunRecord& record() const { return record_; }

 private:
  solver::IncrementResult increment_to(double share, double force_tolerance);
  void take(const solver::IncrementResult& found);

  const solver::SheetModel& model_;
  Eigen::VectorXd dead_load_;
  double pressure_;
  double whole_load_ = 0;  // size of the load at share 1
  solver::RunRecord record_;
  solver::IncrementSolver solver_;
  solver::SheetState state_;
  Eigen::VectorXd rate_;  // of the free unknowns per share, over the last increment
  double share_ = 0;
  double step_ = 0.05;  // share of the next increment
};

}  // namespace halftool::test
