#pragma once
#include <filesystem>
#include <limits>
#include <map>
#include <string>
#include <vector>

#include "io/results/summary.hpp"

namespace halftool::io {

/// What one of several runs over the same tool half came to. Values that were not reached are not numbers.
struct VariantRow {
  std::string label;
  std::string folder;   ///< of the run, in the table's folder
  std::string outcome;  ///< as in the summary; "failed": it could not even begin
  std::string reason;   ///< why it did not complete, or which limit was passed
  std::string material;
  std::string hardening;  ///< "isotropic" or "kinematic"
  std::string grade;      ///< worst grade of the sheet's constants
  double thickness = 0;   ///< [mm]
  double thinning = std::numeric_limits<double>::quiet_NaN();
  double limit_share = std::numeric_limits<double>::quiet_NaN();  ///< of the forming limit, straight path
  double path_share = std::numeric_limits<double>::quiet_NaN();   ///< the same along the path taken
  std::string limit_kind;  ///< of the forming limit, see limit_kind; "none": not judged
  double edge_share = std::numeric_limits<double>::quiet_NaN();
  double bend_strain = std::numeric_limits<double>::quiet_NaN();  ///< of the outer fibre of bends
  double bend_share = std::numeric_limits<double>::quiet_NaN();
  std::map<std::string, double> springback;  ///< of each flange by its name, released minus formed [deg]
  std::string nearest_limit;                 ///< that is used most, of those that are judged; empty: none is
  double nearest_share = std::numeric_limits<double>::quiet_NaN();  ///< above 1: it is passed

  /// Whether the run came to its end.
  [[nodiscard]] bool is_complete() const;
  /// The larger share of the forming limit, which judges the part; not a number where neither is known.
  [[nodiscard]] double forming_share() const;
};

/// Hardening, grade and kind of limit are left to the caller.
/// @param thinning_limit  of the case, nothing: not judged
VariantRow variant_row(const std::string& label, const std::string& folder, const Summary& summary,
                       std::optional<double> thinning_limit);

/// The table for a person.
std::string print_variants(const std::vector<VariantRow>& rows);

/// Writes the table as NAME.csv (comma, one line of headings with units) and NAME.json (`format`, `case`,
/// `runs`: a list with the keys of the CSV and `springback_deg` by flange; what was not reached is null).
/// @throws WriteError
void write_variants(const std::filesystem::path& folder, const std::string& name,
                    const std::string& case_title, const std::vector<VariantRow>& rows);

}  // namespace halftool::io
