#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "io/results/variant_table.hpp"

namespace halftool::io {

/// Runs at the low (-1) and high (+1) end of what varies, after one in the middle of all.
struct TwoLevelDesign {
  std::vector<std::string> factors;     ///< "thickness +-0.05 mm"
  std::vector<std::vector<int>> signs;  ///< (n_runs - 1, n_factors) -1 or +1; the middle run comes first
  bool half = false;                    ///< the last factor's sign is the product of the others'
};

/// Every combination, or half of them where three or more vary.
TwoLevelDesign two_level_design(std::vector<std::string> factors, bool half);

/// What one factor does to a result.
struct MainEffect {
  std::string factor;
  double low = 0, high = 0;  ///< means of the runs at its low and high end

  [[nodiscard]] double change() const { return high - low; }
};

/// A result over all runs.
struct ScatteredResult {
  /// What it tells of.
  enum class Kind { springback, limit_use, other };

  std::string name;
  std::string unit;
  double middle = 0;                     ///< of the middle run
  double least = 0, most = 0;            ///< of all runs: the band
  double mean = 0;                       ///< of the runs at the ends
  std::vector<MainEffect> effects = {};  ///< largest first
  Kind kind = Kind::other;

  /// Whether the largest effect is more than what straight effects leave out, which comes of curved effects
  /// or of meshes that differ from run to run.
  [[nodiscard]] bool is_straight() const;
};

/// The results that every run gave: springback of each flange, share of the forming limit (on a
/// straight path, and along the path taken) and of the edge and bend limit, thinning.
/// @param rows  the middle run, then one for each row of the design, in its order
std::vector<ScatteredResult> scattered_results(const TwoLevelDesign& design,
                                               const std::vector<VariantRow>& rows);

/// The two to be shown first: the springback that scatters most and the limit use that comes highest; others
/// in their order where there is none of a kind. None is null.
std::vector<const ScatteredResult*> leading_results(const std::vector<ScatteredResult>& results);

/// The bands and effects for a person.
std::string print_effects(const TwoLevelDesign& design, const std::vector<ScatteredResult>& results);

/// Writes effects.csv (a row a result and factor) and effects.json.
/// @throws WriteError
void write_effects(const std::filesystem::path& folder, const std::vector<ScatteredResult>& results);

}  // namespace halftool::io
