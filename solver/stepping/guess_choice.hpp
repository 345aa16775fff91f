#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "solver/stepping/increment.hpp"

namespace halftool::solver {

/// Judges where an increment may start from. A guess is a poor start where it stands deep in the tool (most
/// of it is motion that the tool will stop), or where it is much farther out of balance than the last ones
/// were (it has run over something new, such as the flange landing on the wall).
class GuessChoice {
 public:
  explicit GuessChoice(double thickness) : thickness_(thickness) {}

  /// The guess least out of balance. None, while the increment may be shortened, where it would be a poor
  /// start.
  /// @param evaluate  the balance of a guess
  std::optional<Guess> best(const std::vector<Guess>& guesses,
                            const std::function<Balance(const Guess&)>& evaluate,
                            const Tolerances& tolerances, bool may_shorten);

  /// The increment from the last guess chosen was accepted: its start counts as usual.
  void accepted();

  /// Of what it learnt.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(start_, usual_, starts_);
  }

 private:
  double thickness_;
  double start_ = 0;  // out-of-balance force of the guess in use [N]
  double usual_ = 0;  // [N]
  int starts_ = 0;    // of accepted increments
};

}  // namespace halftool::solver
