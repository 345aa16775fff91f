#include <numbers>

#include "solver/assessment/tool_screens.hpp"

namespace halftool::solver {
namespace {

Finding line_finding(const mesh::SharpLine& line, const std::string& what, const std::string& caution) {
  Finding finding;
  finding.what = what;
  finding.found = {"radius", line.radius, "mm"};
  finding.limit = {"limit", sharp_radius, "mm"};
  finding.formula = "radius below the limit and a turn of the face above 30 deg";
  finding.inputs = {{"turn", line.turn * 180 / std::numbers::pi, "deg"},
                    {"length of all", line.length, "mm"}};
  finding.at = line.at;
  finding.caution = caution;
  return finding;
}

}  // namespace

Screen sharp_edge_screen(const mesh::ConvexEdges& edges, const std::vector<Eigen::Vector2d>& blank_corners,
                         double blank_level) {
  Screen screen;
  screen.name = "sharp edges";
  screen.rule = "upper edges of the tool and corners of the blank with a radius below 1 mm";
  if (edges.covered.length > 0)
    add_finding(screen,
                line_finding(edges.covered, "sharp edge under the sheet",
                             "the sheet is bent over it beyond any fold and may crack, the pad above it"));
  if (edges.bare.length > 0)
    add_finding(screen, line_finding(edges.bare, "sharp edge that faces the pad",
                                     "it can cut the pad: round it by 3 to 6 mm, or cover it"));
  if (!blank_corners.empty()) {
    Finding finding =
        line_finding({}, "corners of the blank", "they can cut the pad: round them, or use a wear pad");
    finding.inputs = {{"count", static_cast<double>(blank_corners.size()), ""}};
    finding.at = {blank_corners.front().x(), blank_corners.front().y(), blank_level};
    add_finding(screen, std::move(finding));
  }
  return screen;
}

}  // namespace halftool::solver
