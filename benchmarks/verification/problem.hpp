#pragma once
#include <Eigen/Core>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace halftool::verification {

/// One number held against a reference.
struct Row {
  std::string quantity;           ///< with its unit, e.g. "deflection of the tip [mm]"
  std::string mesh;               ///< e.g. "32 x 4, irregular, seed 1"
  double value = 0;               ///< ours
  double reference = 0;           ///< see the problem's source
  double error = 0;               ///< signed share of the reference; of a curve: its worst point
  std::optional<double> rate;     ///< observed order of convergence from the coarser mesh to this one
  std::optional<double> allowed;  ///< largest |error|; nothing: the row informs only
  std::string remark;             ///< why a row misses, or what it shows

  [[nodiscard]] bool holds() const;
};

/// Words of a mesh of along x across cells, e.g. "32 x 4, irregular, seed 1"; seed 0: structured.
std::string mesh_words(int along, int across, unsigned seed);

/// A row whose error is value/reference - 1.
Row compare(std::string quantity, std::string mesh, double value, double reference);

/// Order p of an error that goes as h^p, from two meshes whose element sizes have the ratio coarse/fine.
/// Nothing where the errors have unlike signs or the finer is not smaller, for then it is not yet that power.
std::optional<double> observed_rate(double coarse_error, double fine_error, double size_ratio = 2);

/// One line or one set of points of a chart.
struct Series {
  std::string label;
  std::vector<Eigen::Vector2d> points;
  bool is_reference = false;  ///< drawn as dots over the lines
};

struct Chart {
  std::string name;  ///< of its file, without extension
  std::string title;
  std::string x_title, y_title;
  std::vector<Series> series;
};

struct Report {
  std::vector<Row> rows;
  std::vector<Chart> charts;
  std::string discussion;  ///< a paragraph of Markdown under the table; empty: none
};

/// How well the reference is known.
enum class Evidence { published, quoted, from_memory, closed_form, own_fine_mesh };
std::string words_of(Evidence evidence);

/// One problem of the suite.
struct Problem {
  std::string name;  ///< for --only: lower case, hyphens
  std::string title;
  std::string group;   ///< heading in the results
  std::string source;  ///< author, year, table
  Evidence evidence = Evidence::published;
  std::function<Report()> run;
};

}  // namespace halftool::verification
