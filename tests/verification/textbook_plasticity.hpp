#pragma once
#include <string>
#include <vector>

namespace halftool::test {

/// One number of a textbook exercise on the plasticity of sheet, by the solver's stress update in the
/// rigid-plastic limit.
struct Printed {
  std::string exercise;
  std::string quantity;  ///< with its unit
  double value = 0;      ///< ours
  double printed = 0;
  double tolerance = 0;  ///< that the rounding of the printed number and of its inputs leaves
};

/// Exercises 2.1, 3.1 and 3.3 of Marciniak, Duncan and Hu, Mechanics of Sheet Metal Forming, 2nd ed. (2002),
/// and 2.2 of Hosford and Caddell, Metal Forming, 3rd ed.; printed results read from public solutions that
/// quote them.
/// @throws std::runtime_error if a stress is not found
std::vector<Printed> textbook_exercises();

}  // namespace halftool::test
