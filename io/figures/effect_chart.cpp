#include "io/figures/effect_chart.hpp"

#include <algorithm>

#include "io/figures/panel_chart.hpp"

namespace halftool::io {
namespace {

ChartPanel panel_of(const ScatteredResult& result) {
  ChartPanel panel;
  panel.heading = result.name;
  panel.x_title = "low (-1) to high (+1) end";
  panel.y_title = result.name + (result.unit.empty() ? "" : " [" + result.unit + "]");
  for (const MainEffect& effect : result.effects)
    panel.lines.push_back({effect.factor, {{-1, effect.low}, {1, effect.high}}});
  std::sort(panel.lines.begin(), panel.lines.end(),
            [](const ChartLine& a, const ChartLine& b) { return a.name < b.name; });  // alike in both panels
  panel.points = {{0, result.middle}};
  panel.points_name = "middle run";
  const double margin = std::max(0.15 * (result.most - result.least), 1e-6);
  panel.values = {Eigen::Vector2d(-1.2, result.least - margin), Eigen::Vector2d(1.2, result.most + margin)};
  return panel;
}

}  // namespace

void draw_effects(const std::filesystem::path& path, const Caption& caption,
                  const std::vector<ScatteredResult>& results) {
  std::vector<ChartPanel> panels;
  for (const ScatteredResult* result : leading_results(results)) panels.push_back(panel_of(*result));
  draw_panel_chart(path, caption, panels);
}

}  // namespace halftool::io
