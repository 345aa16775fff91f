#pragma once
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "io/case/case.hpp"
#include "io/case/document.hpp"
#include "io/case/findings.hpp"
#include "io/case/schema/schema.hpp"

namespace halftool::io {

/// What the checks across keys look at. A check speaks only of keys that were read without error.
struct CheckedCase {
  const Case& values;
  const std::map<std::string, int>& lines;    ///< of the given keys
  const std::vector<std::string>& undecided;  ///< members of choices that were not made
  const std::set<std::string>& meant;         ///< keys that misspelt ones were probably meant to be
  const Node& document;                       ///< what the file says, filled from the stock
  Findings& findings;

  /// True if no error was found at any of these keys, below them or at the tables that they stand in.
  [[nodiscard]] bool sound(const std::vector<std::string>& keys) const;
  /// True if exactly one member of the choice in this table was given.
  [[nodiscard]] bool decided(const std::string& table) const;
  /// True if the key stands in the file.
  [[nodiscard]] bool given(const std::string& key) const { return lines.contains(key); }
  void error(const std::string& key, std::string found, std::string allowed, std::string mend) const;
  void warning(const std::string& key, std::string found, std::string allowed, std::string mend) const;
};

/// An error or a doubt at the first of the keys that stands in the file, or at the first of all; to be
/// filled.
CaseProblem problem_at(const Case& values, const std::vector<std::string>& keys);

/// The key that gives the outline of the blank.
std::string outline_key(const Case& values);

/// Sheet: hardening constants against each other and the elastic ones.
void check_sheet(const CheckedCase& c);
/// Yield condition: what it says of tension in the plane, and how far it misses the tests it is fitted to.
void check_yield(const CheckedCase& c);
/// Sheet: units of stress of unlike systems inside one law, curve or list.
void check_stress_units(const CheckedCase& c);
/// Forming limit: the estimate against the metal, the order of measured points, and what judges the part.
void check_limit(const CheckedCase& c);
/// Rolling direction against the symmetry planes where the sheet is anisotropic.
void check_rolling(const CheckedCase& c);
/// Blank: outline, corners, holes, symmetry.
void check_blank(const CheckedCase& c);
/// Tool half: its measures against each other, the kind, its file.
void check_tool(const CheckedCase& c);
/// Sheet and blank against the tool half: radii, size, cover.
void check_fit(const CheckedCase& c);
/// The size that the unit of an STL file gives the tool half, in itself and beside the blank.
void check_stl_size(const CheckedCase& c);
/// Whether the file of a shape is there and has one of the suffixes.
void check_shape_file(const CheckedCase& c, const std::string& key, const std::string& path,
                      const std::vector<std::string>& suffixes, const std::string& what,
                      const std::string& mend);
/// Inserts: files, names, how long they stand.
void check_inserts(const CheckedCase& c);
/// The steps: pressure schedules, names.
void check_steps(const CheckedCase& c);
/// Zones of the lubrication: whether each lies over the blank and its computed part, and is that of a
/// symmetric part, alone or with another zone.
void check_zones(const CheckedCase& c);
/// Trim lines: when they are cut, and that they are those of a symmetric part.
void check_trims(const CheckedCase& c);

/// A trim line that does not go through a box that holds all of the part.
struct UnmetTrim {
  bool beside = false;  ///< it lies beside the box, not round it
  std::string found;    ///< the line, and what it does to the part
  std::string mend;
};
/// @param low, high  of the box, seen along the line's axis [mm]
/// @return nothing: the line goes through it
std::optional<UnmetTrim> find_unmet(const TrimLine& trim, const Eigen::Vector2d& low,
                                    const Eigen::Vector2d& high);
/// "from (0, 0) to (60, 40)"
std::string extent(const Eigen::Vector2d& low, const Eigen::Vector2d& high);

/// Other sheets over the same tool half: that each differs from the case's own, and from the others in name.
void check_other_sheets(const CheckedCase& c);

/// Stated scatter against the sheet that it is of.
void check_scatter(const CheckedCase& c);

/// Largest extent of a tool half [mm]; common practice, no source.
inline constexpr Range usual_tool_size{5, 5000};
/// Whether blank and tool half differ in size as no two do that belong together, so that inches and
/// millimetres, or metres, may have been mixed: by a factor of 12, half of an inch over a millimetre, for a
/// blank is up to twice as large as its tool half.
/// @param ratio  largest extent of the blank over that of the tool half
bool unlike_in_size(double ratio);

/// Largest distance from curves mirrored at 0 of a coordinate to the curves themselves [mm].
double mirror_difference(const std::vector<mesh::Loop>& loops, int axis);

}  // namespace halftool::io
