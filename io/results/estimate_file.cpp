#include "io/results/estimate_file.hpp"

#include <nlohmann/json.hpp>

#include "io/results/write_file.hpp"

namespace halftool::io {
namespace {

using Json = nlohmann::ordered_json;

Json figure(const solver::Figure& f) {
  return {{"name", f.name}, {"value", f.value}, {"unit", f.unit}};
}

Json estimate_object(const solver::Estimate& e) {
  Json inputs = Json::array();
  for (const solver::Figure& input : e.inputs) inputs.push_back(figure(input));
  return {{"what", e.what},
          {"value", figure(e.value)},
          {"band", e.band ? Json(*e.band) : Json()},
          {"against", e.against.name.empty() ? Json() : figure(e.against)},
          {"passed", e.passed},
          {"formula", e.formula},
          {"inputs", inputs},
          {"evidence", solver::evidence_word(e.evidence)},
          {"source", e.source},
          {"at_mm", e.at ? Json::array({e.at->x(), e.at->y(), e.at->z()}) : Json()},
          {"note", e.note}};
}

Json group_list(const std::vector<solver::EstimateGroup>& groups) {
  Json list = Json::array();
  for (const solver::EstimateGroup& group : groups) {
    Json estimates = Json::array();
    for (const solver::Estimate& estimate : group.estimates) estimates.push_back(estimate_object(estimate));
    list.push_back({{"name", group.name}, {"estimates", estimates}, {"not_found", group.not_found}});
  }
  return list;
}

}  // namespace

void write_estimates(const std::filesystem::path& path, const EstimateFile& file) {
  Json tools = Json::array();
  for (const EstimateFile::OnTool& tool : file.tools)
    tools.push_back({{"pressure_mpa", tool.pressure}, {"groups", group_list(tool.groups)}});
  const Json root = {{"format", 1},
                     {"halftool_version", HALFTOOL_VERSION},
                     {"case", {{"title", file.case_title}, {"file", file.case_file}}},
                     {"credential", file.credential},
                     {"tools", tools},
                     {"cautions", file.cautions}};
  write_file(path, root.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

}  // namespace halftool::io
