#pragma once
#include <Eigen/Core>
#include <vector>

namespace halftool::solver {

/// Heights sampled along a line.
struct HeightLine {
  Eigen::VectorXd along;   ///< (n) rising [mm]
  Eigen::VectorXd height;  ///< (n) [mm]
  /// Length after which the line comes back to its first sample [mm]; 0: it has two ends.
  double period = 0;
  bool starts_on_mirror = false;  ///< the line goes on evenly beyond its first sample
  bool ends_on_mirror = false;    ///< the same beyond its last
};

/// One wave: a crest between two valleys.
struct Wave {
  double height = 0;  ///< of the crest over the straight line between its valleys [mm]
  double length = 0;  ///< twice its width at half its height [mm]: of sine waves the distance of two crests
  int crest = 0;      ///< sample
};

/// Waves of a line in the order of their crests; one whose crest lies on a mirror counts once. The line's
/// tilt is taken off before. A crest wider at half its height than a third of the line (with a mirror: of
/// line and image) is the line's shape and no wave. Where an open line ends below a crest, the end is a
/// valley; a lifted end is no crest.
/// @param least  rise and fall of the crest from and to its valleys that make a wave [mm]
std::vector<Wave> find_waves(const HeightLine& line, double least);

/// Largest bending strain of a sheet in sine waves: t/2 times the curvature at a crest.
/// @param thickness  t [mm]
double bending_strain(const Wave& wave, double thickness);

}  // namespace halftool::solver
