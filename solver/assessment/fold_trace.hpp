#pragma once
#include <Eigen/Core>
#include <cmath>
#include <limits>
#include <vector>

#include "mesh/screens/tool_bends.hpp"
#include "solver/result.hpp"

namespace halftool::solver {

/// How far a flange has come.
struct Folding {
  bool has_sheet = false;  ///< some of the sheet hung out beyond the bend
  double turn = 0;         ///< mean, of its outer half, since the first state [rad]
  double elastic = 0;      ///< turn per pressure as it set out [rad/MPa]; 0: it has not
  double excess = std::numeric_limits<double>::quiet_NaN();  ///< turn in the last state over the elastic one
  double pressure = std::numeric_limits<double>::quiet_NaN();  ///< at which it began to fold [MPa]; NaN: not
  double stiffest = std::numeric_limits<double>::infinity();   ///< least turn per pressure so far [rad/MPa]
  double yields = std::numeric_limits<double>::quiet_NaN();    ///< where it gave way twice as fast [MPa]

  template <class Archive>
  void serialize(Archive& archive) {
    archive(has_sheet, turn, elastic, excess, pressure, stiffest, yields);
  }
};

/// Follows how flanges fold over the bends of a tool half while the pressure rises. A flange is what hangs
/// out beyond the middle of its overhang, nearest to its bend in plan, in the first state. It begins to fold
/// where it has turned by twice what it would have elastically. A strong sheet over a large radius lies on
/// the tool half before that: it begins where it turns twice as fast with the pressure as at its stiffest.
class FoldTrace {
 public:
  explicit FoldTrace(std::vector<mesh::ToolBend> bends);

  /// @param fields  the next state under rising or full pressure, on the tool with these bends. It ends where
  /// the
  ///                sheet was trimmed
  void add(const SheetFields& fields);

  [[nodiscard]] const std::vector<Folding>& foldings() const { return foldings_; }  ///< one a bend

  /// Of the states added; the bends must be the same.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(foldings_, bend_of_, first_, first_pressure_, last_pressure_);
  }

 private:
  void choose(const SheetFields& fields);
  /// @param full  turn of the bend [rad]
  void follow(Folding& folding, double turn, double pressure, double full) const;
  void follow_stiffness(Folding& folding, double turn, double pressure) const;

  std::vector<mesh::ToolBend> bends_;
  std::vector<Folding> foldings_;
  std::vector<int> bend_of_;  ///< (n_triangles) that it is a flange of; -1: of none
  Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>
      first_;  ///< normals then, as long as twice the area
  double first_pressure_ = 0, last_pressure_ = 0;
};

}  // namespace halftool::solver
