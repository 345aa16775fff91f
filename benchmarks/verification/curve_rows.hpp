#pragma once
#include <functional>
#include <string>
#include <vector>

#include "benchmarks/verification/problem.hpp"
#include "tests/verification/load_curve.hpp"

namespace halftool::verification {

/// One problem on one mesh.
struct CurveRun {
  test::MeshChoice choice;
  std::string mesh;  ///< its words
  test::LoadCurve curve;
};

/// Words of a mesh of divisions by divisions cells, and of a ring of divisions by 12 times as many.
std::string square_mesh(const test::MeshChoice& choice);
std::string ring_mesh(const test::MeshChoice& choice);

/// The runs of one seed on meshes from coarse to fine.
std::vector<CurveRun> run_meshes(
    const test::CurveProblem& problem, const std::vector<int>& divisions, unsigned seed, bool bows = true,
    const std::function<std::string(const test::MeshChoice&)>& words = square_mesh);

/// What of a curve is held against its table.
struct CurveCheck {
  int column = 0;
  double measure = 0;                             ///< see test::largest_miss
  std::function<bool(double share)> counts = {};  ///< see test::largest_miss
  std::string loads = "all loads";                ///< the words of `counts`
  double allowed = 0;                             ///< on the finest mesh; 0: rows inform only
};

/// A row a mesh: the curve's worst point, its load in the remark. The finest of three meshes or more also has
/// the order of convergence of the displacement under the whole load, from the last three (no reference
/// needed).
void add_rows(const test::CurveProblem& problem, const std::vector<CurveRun>& runs, const CurveCheck& check,
              Report& report);

/// Share of the load over the displacements of runs, and the table.
Chart curve_chart(const test::CurveProblem& problem, const std::vector<CurveRun>& runs,
                  const std::string& name, const std::string& title);

}  // namespace halftool::verification
