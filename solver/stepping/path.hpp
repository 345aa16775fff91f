#pragma once
#include <Eigen/Core>
#include <array>
#include <vector>

#include "solver/stepping/increment.hpp"

namespace halftool::solver {

/// Chooses how far the next increment goes and predicts where it ends, from the accepted increments before
/// it.
class Path {
 public:
  /// @param always_predicts  also where predictions take many iterations: not with what follows the last
  ///                         accepted shape, which longer increments would leave behind
  Path(const Equations& equations, const SolverSettings& settings, double first_volume,
       bool always_predicts = false);

  /// What to try next from a state on the way to a target pressure.
  struct Attempt {
    Control control;
    std::vector<Guess>
        guesses;  ///< at least one; where the path bends the second, of lower order, may be better
  };
  [[nodiscard]] Attempt next(const SheetState& committed, double target) const;

  /// @return true if the increment is small enough to be accepted: motion, growth of the pressure and of
  /// plastic strain, target not passed
  [[nodiscard]] bool acceptable(const SheetState& committed, const IncrementResult& result,
                                double target) const;

  /// Learns from an accepted increment.
  /// @param shift  (count) motion that thinning in the increment asks for, see thinning_shift
  void accepted(const SheetState& committed, const IncrementResult& result, Eigen::VectorXd shift);
  /// Shortens the next attempt after a rejected one. @return false: the increment is at its smallest
  bool cut();

  /// Shortens the next attempt before it is tried.
  void shorten();
  /// @return false where the guess is no prediction, so that a shorter increment would not change it
  [[nodiscard]] bool may_shorten() const { return predicts() && shortened_ < kMostShortenings; }

  /// Lets the volume lead and forgets what it learnt, but for the shift and whether the sheet is under way.
  void restart(double volume);

  [[nodiscard]] bool pressure_leads() const { return kind_ == Control::Kind::pressure; }

  /// Of what it learnt; made with the same arguments it goes on alike.
  template <class Archive>
  void serialize(Archive& archive) {
    archive(kind_, volume_step_, pressure_share_, under_way_, still_, long_, led_astray_, cuts_, cuts_lately_,
            shortened_, legs_, shift_);
  }

 private:
  struct Leg {
    double volume = 0;
    double pressure = 0;
    Eigen::VectorXd change;

    template <class Archive>
    void serialize(Archive& archive) {
      archive(volume, pressure, change);
    }
  };
  [[nodiscard]] bool predicts() const { return cuts_ == 0 && legs_[0].change.size() != 0 && !led_astray_; }
  [[nodiscard]] double pressure_limit(double pressure) const;
  [[nodiscard]] double leading(const Leg& leg) const;
  [[nodiscard]] std::vector<Guess> predict(const SheetState& committed, double step) const;
  void choose_control(const Leg& leg, double motion, double limit);
  void watch_predictions(const Leg& leg, int iterations, double motion, double limit);

  const Equations* equations_;
  SolverSettings settings_;
  bool always_predicts_;
  Control::Kind kind_ = Control::Kind::volume;
  double volume_step_ = 0;     // next, with volume leading [mm3]
  double pressure_share_ = 1;  // next, of the pressure limit, with pressure leading
  bool under_way_ = false;     // an increment moved the sheet by more than a tenth of what it may
  int still_ = 0;              // increments in a row that the pressure limited
  int long_ = 0;               // increments in a row of many iterations and little motion
  bool led_astray_ = false;    // with pressure leading: none starts from a prediction
  int cuts_ = 0;               // in a row
  int cuts_lately_ = 0;        // since an increment was last accepted at its first attempt
  static constexpr int kMostShortenings = 4;
  int shortened_ = 0;        // since the last accepted increment
  std::array<Leg, 2> legs_;  // last, last but one
  Eigen::VectorXd shift_;    // empty before the first accepted increment
};

}  // namespace halftool::solver
