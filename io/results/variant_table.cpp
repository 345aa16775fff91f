#include "io/results/variant_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>

#include "io/results/write_file.hpp"

namespace halftool::io {
namespace {

using Json = nlohmann::ordered_json;

/// All flanges of all runs.
std::set<std::string> flanges_of(const std::vector<VariantRow>& rows) {
  std::set<std::string> names;
  for (const VariantRow& row : rows)
    for (const auto& [name, angle] : row.springback) names.insert(name);
  return names;
}

double springback_of(const VariantRow& row, const std::string& flange) {
  const auto found = row.springback.find(flange);
  return found == row.springback.end() ? std::numeric_limits<double>::quiet_NaN() : found->second;
}

/// A number for the console, with a dash where there is none.
std::string number(double value, const char* format) {
  return std::isnan(value) ? "-" : fmt::format(fmt::runtime(format), value);
}

std::string percent(double share) {
  return number(100 * share, "{:.1f} %");
}

std::string csv_text(const std::string& text) {
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c == '\n' ? ' ' : c);
  return quoted + '"';
}

std::string csv_number(double value) {
  return std::isnan(value) ? "" : fmt::format("{:.6g}", value);
}

std::string csv_table(const std::vector<VariantRow>& rows) {
  const auto flanges = flanges_of(rows);
  std::string text =
      "label,folder,outcome,material,hardening,grade,thickness [mm],thinning [-],limit share [-],"
      "path share [-],forming limit,edge share [-],bend strain [-],bend share [-],nearest limit,nearest "
      "share [-]";
  for (const auto& flange : flanges) text += ',' + csv_text(flange + " springback [deg]");
  text += ",reason\n";
  for (const VariantRow& row : rows) {
    text += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}", csv_text(row.label),
                        csv_text(row.folder), csv_text(row.outcome), csv_text(row.material), row.hardening,
                        csv_text(row.grade), csv_number(row.thickness), csv_number(row.thinning),
                        csv_number(row.limit_share), csv_number(row.path_share), row.limit_kind,
                        csv_number(row.edge_share), csv_number(row.bend_strain), csv_number(row.bend_share),
                        csv_text(row.nearest_limit), csv_number(row.nearest_share));
    for (const auto& flange : flanges) text += ',' + csv_number(springback_of(row, flange));
    text += ',' + csv_text(row.reason) + '\n';
  }
  return text;
}

Json row_object(const VariantRow& row) {
  return {{"label", row.label},
          {"folder", row.folder},
          {"outcome", row.outcome},
          {"reason", row.reason},
          {"material", row.material},
          {"hardening", row.hardening},
          {"grade", row.grade},
          {"thickness_mm", row.thickness},
          {"thinning", row.thinning},
          {"limit_share", row.limit_share},
          {"path_share", row.path_share},
          {"limit_kind", row.limit_kind},
          {"edge_share", row.edge_share},
          {"bend_strain", row.bend_strain},
          {"bend_share", row.bend_share},
          {"nearest_limit", row.nearest_limit},
          {"nearest_share", row.nearest_share},
          {"springback_deg", Json(row.springback)}};
}

std::string nearest_words(const VariantRow& row) {
  if (row.nearest_limit.empty()) return "none judged";
  return fmt::format("{} {}{}", row.nearest_limit, percent(row.nearest_share),
                     row.nearest_share > 1 ? " PASSED" : "");
}

/// What the columns of the forming limit say, and that limits of unlike kinds do not compare.
std::string share_words(const std::vector<VariantRow>& rows) {
  std::vector<std::string> kinds;
  for (const VariantRow& row : rows)
    if (!std::isnan(row.forming_share()) &&
        std::find(kinds.begin(), kinds.end(), row.limit_kind) == kinds.end())
      kinds.push_back(row.limit_kind);
  if (kinds.empty()) return "";
  std::string text =
      "\nstraight: share of the forming limit on a straight path; on path: along the path that the strain "
      "took.\n"
      "The larger one judges; limit: what the forming limit is.\n";
  if (kinds.size() > 1)
    text += fmt::format(
        "The forming limits are of different kinds ({}): shares of one do not compare with shares of "
        "another.\n",
        fmt::join(kinds, ", "));
  return text;
}

/// The limit that is used most.
void find_nearest(VariantRow& row, double thinning_share) {
  const std::pair<const char*, double> shares[] = {{"forming limit", row.forming_share()},
                                                   {"edge limit", row.edge_share},
                                                   {"bend limit", row.bend_share},
                                                   {"thinning limit", thinning_share}};
  for (const auto& [name, share] : shares)
    if (!std::isnan(share) && !(share <= row.nearest_share)) {
      row.nearest_limit = name;
      row.nearest_share = share;
    }
}

}  // namespace

bool VariantRow::is_complete() const {
  return outcome == outcome_word(Outcome::done) || outcome == outcome_word(Outcome::limit_passed);
}

double VariantRow::forming_share() const {
  return std::fmax(limit_share, path_share);  // of one number and one that is none: the number
}

VariantRow variant_row(const std::string& label, const std::string& folder, const Summary& summary,
                       std::optional<double> thinning_limit) {
  VariantRow row;
  row.label = label;
  row.folder = folder;
  row.outcome = outcome_word(summary.outcome);
  row.reason = summary.reason;
  row.material = summary.material;
  row.thickness = summary.initial_thickness;
  row.thinning = summary.thinning.value;
  row.limit_share = summary.limit_share.value;
  row.path_share = summary.path_share.value;
  row.edge_share = summary.edge_share.value;
  row.bend_strain = summary.bend_strain.value;
  row.bend_share = summary.bend_share.value;
  for (const FlangeAngle& flange : summary.flanges)
    row.springback[flange.name] = (flange.released - flange.formed) * 180 / std::numbers::pi;
  find_nearest(row,
               thinning_limit ? row.thinning / *thinning_limit : std::numeric_limits<double>::quiet_NaN());
  return row;
}

std::string print_variants(const std::vector<VariantRow>& rows) {
  std::size_t width = 8, kind_width = 11;
  for (const VariantRow& row : rows) {
    width = std::max(width, row.label.size() + 2);
    kind_width = std::max(kind_width, row.limit_kind.size());
  }
  std::string text = fmt::format("{:<{}}{:>9}{:>10}{:>10}{:>10}  {:<{}}{:>9}{:>9}  {:<30}{}\n", "sheet",
                                 width, "t [mm]", "thinning", "straight", "on path", "limit", kind_width,
                                 "edge", "bend", "nearest limit", "outcome");
  for (const VariantRow& row : rows) {
    text += fmt::format("{:<{}}{:>9.4g}{:>10}{:>10}{:>10}  {:<{}}{:>9}{:>9}  {:<30}{}\n", row.label, width,
                        row.thickness, percent(row.thinning), percent(row.limit_share),
                        percent(row.path_share), row.limit_kind.empty() ? "-" : row.limit_kind, kind_width,
                        percent(row.edge_share), percent(row.bend_share), nearest_words(row), row.outcome);
    if (!row.is_complete()) text += fmt::format("{:<{}}{}\n", "", width, row.reason);
  }
  text += share_words(rows);
  const auto flanges = flanges_of(rows);
  if (flanges.empty()) return text;
  text += "\nSpringback (released minus formed; below zero it opens)\n";
  for (const auto& flange : flanges) {
    text += "  " + flange + '\n';
    for (const VariantRow& row : rows)
      text += fmt::format("    {:<{}}{:>12}\n", row.label, width,
                          number(springback_of(row, flange), "{:+.2f} deg"));
  }
  return text;
}

void write_variants(const std::filesystem::path& folder, const std::string& name,
                    const std::string& case_title, const std::vector<VariantRow>& rows) {
  Json runs = Json::array();
  for (const VariantRow& row : rows) runs.push_back(row_object(row));
  const Json root = {
      {"format", 1}, {"halftool_version", HALFTOOL_VERSION}, {"case", case_title}, {"runs", runs}};
  write_file(folder / (name + ".csv"), csv_table(rows));
  write_file(folder / (name + ".json"), root.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

}  // namespace halftool::io
