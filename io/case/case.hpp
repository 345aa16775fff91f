#pragma once
#include <array>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "io/case/case_error.hpp"
#include "io/case/origin.hpp"
#include "io/drawing/blank_drawing.hpp"
#include "mesh/blank.hpp"
#include "mesh/tool_surface.hpp"
#include "solver/assessment/forming_limit.hpp"
#include "solver/material/sheet_material.hpp"
#include "solver/stepping/press_spec.hpp"

namespace halftool::io {

enum class ToolKind { block, cavity };

/// How much computing a case is worth: presets of elements over a bend and of layers.
enum class Detail { quick, trial, careful };

/// Where the forming limit comes from.
enum class FormingLimit { none, estimate, measured, computed, lower };

/// Measured points of the forming-limit curve of the sheet.
struct LimitPoints {
  bool from_file = false;
  std::string file;                           ///< CSV with columns of minor and major strain
  std::vector<std::array<double, 2>> points;  ///< [minor, major] as given; minor rises
  std::vector<int> lines;                     ///< (n_points) of the file
  bool engineering = false;                   ///< engineering strains; else true ones
  std::string source;                         ///< which test, printed with the results
  std::string grade = "user";                 ///< one of grades()
  std::optional<double> thickness;            ///< of the sheet tested [mm]
};

/// Another sheet that is pressed over the same tool half.
struct OtherSheet {
  std::string name;                 ///< empty: stock and thickness stand for it
  std::optional<double> thickness;  ///< [mm]; nothing: the case's
  std::string stock;                ///< sheet of the stock; empty: the case's material
  std::string hardening;            ///< "isotropic" or "kinematic"; empty: as the sheet's constants say
};

/// By how much what enters a case scatters, either way. What is not stated does not vary.
struct Scatter {
  std::optional<double> thickness;  ///< [mm]
  std::optional<double> strength;   ///< of the flow stress, as a share
  std::optional<double> exponent;   ///< of the hardening, as a share
  std::optional<double> friction;   ///< as a share
  bool half = false;                ///< half of the runs, where three or more vary
};

/// How the edges of the blank are cut.
enum class EdgeCut { not_stated, milled, laser, sheared };

/// What the pressed part may reach. A limit that is not set is not judged.
struct Limits {
  std::optional<double> edge_stretch;    ///< growth of a cut edge over its length
  std::optional<double> hole_expansion;  ///< the same as a ratio of ISO 16630
  std::optional<double> hole_stretch;    ///< growth of a hole's rim; nothing: as the others
  std::optional<double> trim_stretch;  ///< growth of a trimmed edge since it was cut; nothing: as the others
  std::optional<double> bend_ratio;    ///< least inside radius of a bend over the thickness
  std::string bend_source;  ///< of a bend ratio that the stock gives, with its grade; empty: the case's
  std::optional<double> bend_strain;  ///< largest true strain of the outer fibre of a bend
  std::optional<double> thinning;     ///< largest thinning (t0 - t)/t0
  FormingLimit forming_limit = FormingLimit::estimate;
};

/// What is written besides the results themselves.
struct Outputs {
  bool pictures = true;  ///< PNG pictures
  bool series = true;    ///< the states of the pressing, to be played in a viewer
};

/// A part of the tool that is taken out on the way.
struct ToolInsert {
  std::string name;
  mesh::ToolShape shape = mesh::StepShape{};
  std::string last_step;  ///< name of the last step in which it stands; empty: it stays
};

/// One pressing. The pressure is taken off after each, the strains stay.
struct PressStep {
  std::string name;
  std::vector<solver::SchedulePoint> schedule;  ///< share and pressure never fall; the last is the peak
};

enum class TrimKeeps { inside, outside };
enum class TrimTime { after_release, before_release };

/// A line along which the formed sheet is trimmed, projected along an axis of the tool.
struct TrimLine {
  std::string after_step;                ///< name of a step; empty: the last
  BlankDrawing drawing;                  ///< no path: the polygon stands in its place
  std::vector<Eigen::Vector2d> polygon;  ///< [mm]
  TrimKeeps keep = TrimKeeps::inside;
  int along = 2;                            ///< 0 x, 1 y, 2 z
  TrimTime when = TrimTime::after_release;  ///< after the last step
  mesh::DrawnOutline line;                  ///< as read from the drawing or the polygon
};

/// A lubrication that the case does not put a word to.
inline const std::string no_lubricant = "not stated";

/// Part of the blank with a lubrication of its own.
struct FrictionZone {
  std::string name;
  std::string lubricant = no_lubricant;  ///< "dry", "oil", "film"
  double mu = 0;                         ///< Coulomb coefficient between sheet and tool
  std::vector<Eigen::Vector2d> corners;  ///< of a polygon in the blank's own frame [mm]
};

/// Everything that a case file says, in internal units (mm, MPa, rad), complete with its defaults.
struct Case {
  std::filesystem::path file;  ///< as it was given
  int version = 1;             ///< of the case-file vocabulary
  std::string title;
  solver::SheetMaterial material;
  std::optional<LimitPoints> limit_points;              ///< measured forming limit of the sheet
  std::optional<solver::ComputedLimit> computed_limit;  ///< its points: see complete_limit
  std::optional<StockUse> stock;                        ///< the sheet of the stock that `material` comes from
  std::vector<OtherSheet> other_sheets;                 ///< see sheet_variants
  mesh::BlankSpec blank;                                ///< thickness and rolling direction included
  std::variant<std::monostate, BlankDrawing, BlankFace> outline_file;  ///< where a drawn outline comes from
  mesh::BlankMeshSpec blank_mesh;
  mesh::ToolSpec tool;
  ToolKind tool_kind = ToolKind::block;
  std::string tool_material;                  ///< of the tool half, for the record
  std::optional<double> tool_allowed_stress;  ///< that the tool half may bear [MPa]; nothing: not judged
  std::vector<ToolInsert> inserts;
  solver::PressSpec press;  ///< what all steps share; its schedule is empty
  std::vector<PressStep> steps = {1, PressStep{}};
  double smallest_pad_radius = 0;        ///< hollows that the diaphragm still enters [mm]; 0: it enters all
  std::string lubricant = no_lubricant;  ///< of the tool side: "dry", "oil", "film"
  std::vector<FrictionZone> friction_zones;  ///< later ones lie over earlier ones
  std::vector<TrimLine> trims;               ///< in the order in which they are cut
  Scatter scatter;
  EdgeCut edge_cut = EdgeCut::not_stated;
  EdgeCut hole_cut = EdgeCut::not_stated;  ///< of the rims of holes; not stated: as the others
  Limits limits;
  Detail detail = Detail::trial;
  solver::SolverSettings settings;
  Outputs outputs;

  std::map<std::string, int> given;   ///< keys that stand in the file, with lines; others hold their defaults
  std::vector<CaseWarning> warnings;  ///< doubts, in the order of the lines

  /// The peak of the last step [MPa].
  [[nodiscard]] double peak_pressure() const { return steps.back().schedule.back().pressure; }
};

/// Reads, completes and checks a case file.
/// @throws CaseError  everything that is wrong in the file, or a file that cannot be read
Case read_case(const std::filesystem::path& file);

/// The same from a text. Paths in it are relative to the folder of `file`, which need not exist.
/// @throws CaseError  everything that is wrong in the text
Case parse_case(std::string_view text, const std::filesystem::path& file);

/// Reads a text that holds [sheet.material] and nothing else. The rest of the case it gives is empty.
/// @param file  name for messages
/// @throws CaseError  everything that is wrong in the text
Case parse_sheet(std::string_view text, const std::filesystem::path& file);

/// The constants of a sheet as [sheet.material], ready for a case file; parse_sheet gives the sheet back.
std::string print_sheet(const solver::SheetMaterial& material);

/// The complete case as TOML: every key with its unit, defaults marked by a comment. Reading it gives the
/// case back.
/// @param folder  where the text will lie: paths are written relative to it (empty: the folder of the case
/// file)
std::string print_case(const Case& complete, const std::filesystem::path& folder = {});

}  // namespace halftool::io
