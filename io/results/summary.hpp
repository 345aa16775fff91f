#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <iosfwd>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "io/case/origin.hpp"
#include "io/results/screened_tool.hpp"
#include "io/results/write_file.hpp"
#include "mesh/folded_sheet.hpp"
#include "solver/assessment/edge_waves.hpp"
#include "solver/assessment/fill_trace.hpp"
#include "solver/assessment/flange_estimate.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// How the job ended; the program's exit code follows from it.
enum class Outcome {
  done,           ///< computed to the end, no limit passed
  limit_passed,   ///< computed to the end, a limit passed
  not_completed,  ///< the computation stopped short; what was reached is kept
  stopped         ///< by the user
};

/// The word that the summary uses: "done", "limit passed", "not completed", "stopped".
std::string outcome_word(Outcome outcome);

/// A value and where on the part it stands.
struct Extreme {
  double value = std::numeric_limits<double>::quiet_NaN();
  Eigen::Vector3d at = Eigen::Vector3d::Constant(std::numeric_limits<double>::quiet_NaN());  ///< [mm]
};

/// Angle through which a flange is folded out of the web; the released one is smaller where the flange opens.
struct FlangeAngle {
  std::string name;
  double formed = 0;    ///< at full pressure [rad]
  double released = 0;  ///< after release [rad]
};

/// A computed value beside what a hand formula says of it.
struct Comparison {
  std::string what;  ///< "flange at +x opens by"
  std::string unit;  ///< empty: a bare number
  double computed = 0;
  double estimated = 0;
  double low = std::numeric_limits<double>::quiet_NaN();  ///< of the estimate's band, if it has one
  double high = std::numeric_limits<double>::quiet_NaN();
  bool not_reached = false;  ///< `computed` was reached without it: it lies above

  /// Computed over estimated, less 1: above zero the computation says more of it. Zero where it was
  /// not reached and the estimate lies above too.
  [[nodiscard]] double difference() const;
  /// They differ by more than 30 percent (own judgement): one of them leaves out what matters.
  [[nodiscard]] bool is_apart() const;
};

/// Distance of the released part from the formed one after the best fit.
struct ReleaseFit {
  double rms = 0;                                        ///< [mm]
  double largest = 0;                                    ///< [mm]
  Eigen::Vector3d largest_at = Eigen::Vector3d::Zero();  ///< on the formed part [mm]
};

/// A trim of the sheet.
struct TrimRecord {
  std::string after_step;  ///< its name; empty: the last
  double kept_share = 0;   ///< of the sheet's area
  /// Largest motion of the free part when it was trimmed, best-fitted [mm]; not a number between two steps
  double motion = std::numeric_limits<double>::quiet_NaN();

  template <class Archive>
  void serialize(Archive& archive) {
    archive(after_step, kept_share, motion);
  }
};

/// Tendency of the formed part to wrinkle, a sign and no limit: see solver::wrinkling_tendency.
struct Wrinkling {
  Extreme worst;  ///< share of the in-plane stress that compresses; 0: nowhere
  Extreme loose;  ///< the same where the tool does not hold the sheet flat
  double loose_stress =
      0;            ///< least minor stress there, less that across the sheet; 0: none compresses [MPa]
  double area = 0;  ///< share of the part's area with a tendency
};

struct PhaseTime {
  std::string name;    ///< "tool", "blank", "forming", ...
  double seconds = 0;  ///< wall clock
};

struct MeshCounts {
  int nodes = 0;
  int triangles = 0;
  int unknowns = 0;
  int tool_facets = 0;
  double smallest_angle = 0;  ///< of a triangle of the blank [rad]
  double finest = 0;          ///< shortest edge [mm]
  double coarsest = 0;        ///< longest edge [mm]
};

/// Everything that a finished (or broken off) job has to say, filled by the caller. Values that were not
/// reached stay NaN or empty: they are `null` in the file and left out on the console.
struct Summary {
  std::string version;  ///< of halftool
  std::string case_title;
  std::string case_file;
  Outcome outcome = Outcome::done;
  std::string reason;  ///< why the job did not complete, or which limit was passed

  std::string material;
  std::string hardening;     ///< kind of hardening and unloading, and what springback has from them
  std::string sheet_grade;   ///< how far its constants are to be trusted: the worst
  std::string sheet_source;  ///< where they come from
  std::string sheet_stock;   ///< name of the sheet in the stock; empty: not from there
  std::vector<ConstantOrigin> sheet_constants;  ///< of a sheet of the stock
  double rate_factor = 1;                       ///< of the flow stress, for the press's strain rate
  double initial_thickness = 0;                 ///< [mm]
  double peak_pressure = 0;                     ///< asked for [MPa]
  double reached_pressure = 0;                  ///< [MPa]

  Extreme thinning;                ///< largest (t0 - t)/t0
  Extreme thickening;              ///< largest (t - t0)/t0, zero or more
  Extreme major_strain;            ///< largest true strain of the mid-surface
  Extreme face_strain;             ///< largest true strain of either face
  Extreme plastic_strain;          ///< largest equivalent plastic strain of mid-surface and faces
  Extreme limit_share;             ///< largest share of the forming limit
  Extreme path_share;              ///< the same along the path that the strain took
  double limit_not_judged = 0;     ///< share of the area stretched by 2 % or more beside the limit's points
  Extreme limit_not_judged_major;  ///< largest major true strain there
  std::string limit_name;          ///< which forming limit, and its source

  std::string edge_limit;     ///< how edges are cut, and their limit; "not judged" without one
  Extreme edge_strain;        ///< largest true strain along a cut edge
  Extreme edge_share;         ///< the same over its limit
  std::string edge_share_of;  ///< which edge uses most, where edges have limits of their own; else empty
  std::string bend_limit;     ///< of the outer fibre of bends; "not judged" without one
  Extreme bend_strain;        ///< largest major true strain of a bent face
  Extreme bend_edge_strain;   ///< the same where a cut edge crosses the bend, which the limit does not judge
  Extreme bend_share;         ///< the same over its limit

  Extreme governing_share;     ///< largest share of all limits that are judged
  std::string governing_kind;  ///< of which: "splitting", "thinning", "edge", "bend"; empty: none
  std::string governing_face;  ///< "both", "pad face" or "tool face"
  std::optional<Wrinkling> wrinkling;

  std::optional<solver::EdgeWaveHistory> edge_waves;  ///< of the pressing

  std::vector<solver::FlangeEstimate> flange_estimates;  ///< of the bends of the tool half; not written
  std::vector<solver::RadiusToFill> inside_radii;        ///< of the tool half; not written
  std::vector<Comparison> comparisons;                   ///< where both were found
  std::vector<FlangeAngle> flanges;
  std::optional<ReleaseFit> fit;
  std::vector<TrimRecord> trims;  ///< in the order in which they were cut

  Extreme tool_in_sheet;  ///< deepest that the tool stands past the tool face of the formed sheet [mm]

  mesh::FoldedSheet folded;  ///< the formed part, where it passes through itself

  solver::RunRecord record;
  std::vector<PhaseTime> phases;
  double peak_memory = std::numeric_limits<double>::quiet_NaN();  ///< resident [MB]
  MeshCounts mesh;

  std::string tool_material;                  ///< as the case names it
  std::optional<double> tool_allowed_stress;  ///< [MPa]
  std::vector<ScreenedTool> screened_tools;   ///< one for each change of the tool half
  std::vector<std::string> warnings;
  std::vector<std::string> cautions;
  std::string credential;  ///< one line: where the numbers behind the result come from
};

// Derived numbers, one definition for file, console and tests.

/// (tool + held + fluid force along the press axis) over the fluid force: the balance sheet of the dwell.
/// Reactions are those of the tool and the clamps on the sheet, the fluid force that of the fluid.
double force_imbalance(const solver::RunRecord& record);
/// Work of the crutches over the work of the fluid.
double regularisation_share(const solver::RunRecord& record);
/// Largest penetration over the initial thickness.
double penetration_share(const Summary& summary);
double total_seconds(const Summary& summary);
/// Share of the solver's time outside factorisation, solve and element work.
double overhead_share(const solver::RunRecord& record);

/// Writes the summary as JSON, keys as in summary_keys_markdown(). The file appears only when it is complete.
/// @throws WriteError
void write_summary(const std::filesystem::path& path, const Summary& summary);

/// The same content for a person.
void print_summary(std::ostream& out, const Summary& summary);

/// Table of every key of summary.json: key, unit, meaning. It is made from the table that writes the file.
std::string summary_keys_markdown();

}  // namespace halftool::io
