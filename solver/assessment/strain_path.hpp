#pragma once
#include <Eigen/Core>
#include <vector>

#include "solver/assessment/forming_limit.hpp"
#include "solver/material/plane_yield.hpp"

namespace halftool::solver {

/// Equivalent strain over which the direction of the last strain is taken: it becomes this to twice as long
/// (own choice: short against a forming limit, long against the scatter of single increments).
inline constexpr double kLastStrain = 0.005;

/// Follows the strain of each triangle's mid-surface through a pressing and judges it by a measure that does
/// not ask for a straight path: the equivalent strain used up so far, over that which the forming limit
/// allows on a straight path in the direction of the last strain (polar effective plastic strain: Stoughton
/// and Yoon, Int. J. Solids Struct. 49 (2012) 3616-3625). The share kept is the largest of all states, for a
/// limit that was passed on the way stays passed. On a straight path it is the share of limit_share. Strain
/// counts while the metal flows, its elastic part included, which errs on the safe side; isotropic hardening
/// is taken.
class StrainPath {
 public:
  /// The yield condition is that of the sheet.
  StrainPath(const SheetMaterial& material, FormingLimit limit);

  /// The next accepted state under rising or full pressure; the first lays down the number of triangles.
  void add(const SheetFields& fields);
  /// The sheet was cut: triangle t was part of triangle parent[t]. What it strains by up to the next state is
  /// not counted, for the cut itself moves the sheet.
  void trim(const std::vector<int>& parent);
  /// (n_triangles) Not a number where no direction of strain was ever on a path that the limit judges; empty
  /// before the first state.
  [[nodiscard]] Eigen::VectorXd shares() const;

  /// Of the states added; metal and limit must be the same.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(points_, resumes_);
  }

 private:
  struct Knot {
    Eigen::Vector3d strain = Eigen::Vector3d::Zero();  ///< [11, 22, 2*12]
    double used = 0;                                   ///< equivalent strain up to it

    template <class Archive>
    void serialize(Archive& archive) {
      archive(strain, used);
    }
  };
  struct Point {
    Knot last;            ///< the state up to which strain is counted
    double plastic = 0;   ///< equivalent plastic strain of that state
    Knot older, younger;  ///< earlier states, at least kLastStrain apart
    double share = 0;
    bool judged = true;  ///< as long as nothing strains there is nothing to judge

    template <class Archive>
    void serialize(Archive& archive) {
      archive(last, plastic, older, younger, share, judged);
    }
  };
  void follow(Point& point, const Eigen::Vector3d& strain, double plastic) const;

  MovingYield yield_;
  FormingLimit limit_;
  std::vector<Point> points_;
  bool resumes_ = false;  ///< after a cut
};

}  // namespace halftool::solver
