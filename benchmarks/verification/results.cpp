#include "benchmarks/verification/results.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace halftool::verification {
namespace {

std::string percent(double share) {
  return fmt::format("{:+.2f} %", 100 * share);
}

std::string verdict(const Row& row) {
  if (!row.allowed) return "";
  return fmt::format("{:.3g} %{}", 100 * *row.allowed, row.holds() ? "" : " **missed**");
}

void add_rows(const Result& result, std::string& text) {
  text +=
      "| quantity | mesh | ours | reference | error | order | allowed | "
      "|\n|---|---|--:|--:|--:|--:|--:|---|\n";
  for (const Row& row : result.report.rows)
    text += fmt::format("| {} | {} | {:.6g} | {:.6g} | {} | {} | {} | {} |\n", row.quantity, row.mesh,
                        row.value, row.reference, percent(row.error),
                        row.rate ? fmt::format("{:.1f}", *row.rate) : "", verdict(row), row.remark);
}

void add_problem(const Result& result, std::string& text) {
  const Problem& problem = result.problem;
  text += fmt::format("### {}\n\n`{}` · {} ({})\n\n", problem.title, problem.name, problem.source,
                      words_of(problem.evidence));
  if (!result.failure.empty()) {
    text += fmt::format("**It did not run to its end:** {}\n\n", result.failure);
    return;
  }
  add_rows(result, text);
  text += '\n';
  if (!result.report.discussion.empty()) text += result.report.discussion + "\n\n";
}

/// Rows that have an allowed error, and those of them that miss it.
struct Count {
  int held = 0;
  int missed = 0;
};

Count count(const std::vector<Result>& results) {
  Count count;
  for (const Result& result : results)
    for (const Row& row : result.report.rows)
      if (row.allowed) (row.holds() ? count.held : count.missed) += 1;
  return count;
}

nlohmann::ordered_json json_of(const Row& row) {
  nlohmann::ordered_json json = {
      {"quantity", row.quantity},   {"mesh", row.mesh},     {"value", row.value},
      {"reference", row.reference}, {"error", row.error},   {"rate", nullptr},
      {"allowed", nullptr},         {"holds", row.holds()}, {"remark", row.remark}};
  if (row.rate) json["rate"] = *row.rate;
  if (row.allowed) json["allowed"] = *row.allowed;
  return json;
}

nlohmann::ordered_json json_of(const Result& result) {
  nlohmann::ordered_json rows = nlohmann::ordered_json::array();
  for (const Row& row : result.report.rows) rows.push_back(json_of(row));
  return {{"name", result.problem.name},
          {"title", result.problem.title},
          {"source", result.problem.source},
          {"evidence", words_of(result.problem.evidence)},
          {"failure", result.failure},
          {"seconds", result.seconds},
          {"rows", rows}};
}

// Plain words on what the table cannot show.
const char* const kMeasured =
    "\n## Measured cases\n\n"
    "None. No published forming or springback experiment was found with all that a run needs in numbers: "
    "tool, "
    "sheet, friction, and measured shape with its spread. Looked for: flanges pressed by rubber or fluid "
    "(abstracts only); two-dimensional draw bending of NUMISHEET 1993 (set-up known from memory, the table "
    "of "
    "measured angles not; it needs a second tool and a binder, which this solver does not have); three-point "
    "bending of AW-2024 (Kut, Pasowicz and Stachowicz 2023: tables not readable, three tools); V-bending of "
    "0.5 mm steel (Tekaslan, Seker and Ozdemir 2006: tables not readable, two tools); fluid bulges (curves "
    "in "
    "pictures, no sheet data beside them). Agreement with measured parts is therefore not shown by this "
    "suite.\n";

}  // namespace

std::string to_markdown(const std::vector<Result>& results, const std::string& commit,
                        const std::vector<std::string>& left_out) {
  const Count rows = count(results);
  std::string text = fmt::format(
      "# The solver against published results\n\nMade by `verification` at {}. Of {} rows with an allowed "
      "error "
      "{} hold and {} miss.\nOne problem alone: `verification --only NAME`. Errors are relative; that of a "
      "curve is "
      "its worst point.\n",
      commit, rows.held + rows.missed, rows.held, rows.missed);
  if (!left_out.empty()) text += fmt::format("**Not run for this table:** {}.\n", fmt::join(left_out, ", "));
  std::string group;
  for (const Result& result : results) {
    if (result.problem.group != group) text += fmt::format("\n## {}\n", result.problem.group);
    group = result.problem.group;
    text += '\n';
    add_problem(result, text);
  }
  while (text.ends_with("\n\n")) text.pop_back();
  return text + kMeasured;
}

std::string to_json(const std::vector<Result>& results, const std::string& commit) {
  nlohmann::ordered_json problems = nlohmann::ordered_json::array();
  for (const Result& result : results) problems.push_back(json_of(result));
  const nlohmann::ordered_json all = {{"commit", commit}, {"problems", problems}};
  return all.dump(1) + '\n';
}

}  // namespace halftool::verification
