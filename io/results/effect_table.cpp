#include "io/results/effect_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <nlohmann/json.hpp>

#include "io/results/write_file.hpp"

namespace halftool::io {
namespace {

using Reading = std::function<double(const VariantRow&)>;

/// One result of all runs; false if a run did not give it.
bool gather(ScatteredResult& result, const Reading& read, const TwoLevelDesign& design,
            const std::vector<VariantRow>& rows) {
  std::vector<double> values;
  values.reserve(rows.size());
  for (const VariantRow& row : rows) values.push_back(row.is_complete() ? read(row) : std::nan(""));
  if (std::any_of(values.begin(), values.end(), [](double v) { return std::isnan(v); })) return false;
  result.middle = values.front();
  result.least = *std::min_element(values.begin(), values.end());
  result.most = *std::max_element(values.begin(), values.end());
  const auto n = static_cast<double>(design.signs.size());
  for (std::size_t r = 0; r < design.signs.size(); ++r) result.mean += values[r + 1] / n;
  for (std::size_t f = 0; f < design.factors.size(); ++f) {
    MainEffect effect{design.factors[f]};
    for (std::size_t r = 0; r < design.signs.size(); ++r)
      (design.signs[r][f] < 0 ? effect.low : effect.high) += values[r + 1] / (n / 2);
    result.effects.push_back(effect);
  }
  std::stable_sort(
      result.effects.begin(), result.effects.end(),
      [](const MainEffect& a, const MainEffect& b) { return std::abs(a.change()) > std::abs(b.change()); });
  return true;
}

}  // namespace

bool ScatteredResult::is_straight() const {
  return effects.empty() || std::abs(middle - mean) <= std::abs(effects.front().change());
}

TwoLevelDesign two_level_design(std::vector<std::string> factors, bool half) {
  TwoLevelDesign design;
  design.factors = std::move(factors);
  const std::size_t n = design.factors.size();
  design.half = half && n >= 3;
  const std::size_t free = design.half ? n - 1 : n;
  for (std::size_t run = 0; run < (std::size_t{1} << free); ++run) {
    std::vector<int> signs;
    int product = 1;
    for (std::size_t f = 0; f < free; ++f) {
      signs.push_back(((run >> f) & 1U) != 0 ? 1 : -1);
      product *= signs.back();
    }
    if (design.half) signs.push_back(product);
    design.signs.push_back(std::move(signs));
  }
  return design;
}

std::vector<ScatteredResult> scattered_results(const TwoLevelDesign& design,
                                               const std::vector<VariantRow>& rows) {
  std::vector<ScatteredResult> results;
  if (design.factors.empty() || rows.size() != design.signs.size() + 1) return results;
  using Kind = ScatteredResult::Kind;
  const auto add = [&](const std::string& name, const std::string& unit, Kind kind, const Reading& read) {
    ScatteredResult result{name, unit};
    result.kind = kind;
    if (gather(result, read, design, rows)) results.push_back(std::move(result));
  };
  for (const auto& [flange, angle] : rows.front().springback)
    add(flange + ", springback", "deg", Kind::springback, [name = flange](const VariantRow& row) {
      const auto found = row.springback.find(name);
      return found == row.springback.end() ? std::nan("") : found->second;
    });
  const auto add_use = [&](const std::string& of, double VariantRow::*share) {
    add("share of the " + of, "", Kind::limit_use, [share](const VariantRow& row) { return row.*share; });
  };
  add_use("forming limit", &VariantRow::limit_share);
  add_use("forming limit along the path taken", &VariantRow::path_share);
  add_use("edge limit", &VariantRow::edge_share);
  add_use("bend limit", &VariantRow::bend_share);
  add("thinning", "", Kind::other, [](const VariantRow& row) { return row.thinning; });
  return results;
}

std::vector<const ScatteredResult*> leading_results(const std::vector<ScatteredResult>& results) {
  using Kind = ScatteredResult::Kind;
  const ScatteredResult* moves = nullptr;
  const ScatteredResult* used = nullptr;
  for (const ScatteredResult& result : results) {
    const double band = result.most - result.least;
    if (result.kind == Kind::springback && (!moves || band > moves->most - moves->least)) moves = &result;
    if (result.kind == Kind::limit_use && (!used || result.most > used->most)) used = &result;
  }
  std::vector<const ScatteredResult*> leading;
  for (const ScatteredResult* first : {moves, used})
    if (first != nullptr) leading.push_back(first);
  for (const ScatteredResult& result : results)
    if (leading.size() < 2 && &result != moves && &result != used) leading.push_back(&result);
  return leading;
}

std::string print_effects(const TwoLevelDesign& design, const std::vector<ScatteredResult>& results) {
  std::string text;
  for (const ScatteredResult& result : results) {
    const std::string unit = result.unit.empty() ? "" : " " + result.unit;
    text += fmt::format("{}: {:.4g}{} in the middle, {:.4g} to {:.4g}{} over all runs\n", result.name,
                        result.middle, unit, result.least, result.most, unit);
    for (const MainEffect& effect : result.effects)
      text += fmt::format("  {:<30}{:>+10.4g}{} from low to high\n", effect.factor, effect.change(), unit);
    text += fmt::format("  {:<30}{:>+10.4g}{}: what straight effects leave out\n",
                        "middle less mean of the ends", result.middle - result.mean, unit);
    if (!result.is_straight())
      text +=
          "  more than any effect: do not trust their order; a finer detail or a smaller scatter may part "
          "them\n";
  }
  if (results.empty()) return "no result was reached by every run: no effects\n";
  if (design.half)
    text += design.factors.size() == 3
                ? "Half of the runs: each effect is mixed with how the two other factors work together.\n"
                : "Half of the runs: each effect is mixed with how the three other factors work together.\n";
  return text + "The band holds the runs that were made; it is no share of parts.\n";
}

void write_effects(const std::filesystem::path& folder, const std::vector<ScatteredResult>& results) {
  using Json = nlohmann::ordered_json;
  std::string csv = "result,unit,middle,least,most,factor,mean at low end,mean at high end,change\n";
  Json list = Json::array();
  for (const ScatteredResult& result : results) {
    Json effects = Json::array();
    for (const MainEffect& effect : result.effects) {
      csv += fmt::format("\"{}\",{},{:.6g},{:.6g},{:.6g},\"{}\",{:.6g},{:.6g},{:.6g}\n", result.name,
                         result.unit, result.middle, result.least, result.most, effect.factor, effect.low,
                         effect.high, effect.change());
      effects.push_back({{"factor", effect.factor},
                         {"low", effect.low},
                         {"high", effect.high},
                         {"change", effect.change()}});
    }
    list.push_back({{"name", result.name},
                    {"unit", result.unit},
                    {"middle", result.middle},
                    {"least", result.least},
                    {"most", result.most},
                    {"mean_of_ends", result.mean},
                    {"effects", effects}});
  }
  const Json root = {{"format", 1}, {"halftool_version", HALFTOOL_VERSION}, {"results", list}};
  write_file(folder / "effects.csv", csv);
  write_file(folder / "effects.json", root.dump(2, ' ', false, Json::error_handler_t::replace) + "\n");
}

}  // namespace halftool::io
