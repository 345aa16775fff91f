#include "io/figures/figures.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "io/figures/display.hpp"
#include "io/figures/drawn_sheet.hpp"
#include "io/figures/part_picture.hpp"
#include "io/figures/section_picture.hpp"
#include "io/results/nodal_average.hpp"

namespace halftool::io {
namespace {

constexpr double psi_per_mpa = 145.03773773;

double degrees(double radians) {
  return radians * 180 / std::numbers::pi;
}

std::string words_of(const Eigen::Vector3d& at) {
  return fmt::format("({:.1f}, {:.1f}, {:.1f}) mm", at.x(), at.y(), at.z());
}

/// The drawing work of one job: the input, whole parts, and what has come of it.
class Draughtsman {
 public:
  Draughtsman(const std::filesystem::path& folder, const FigureInput& input)
      : folder_(folder), input_(input) {
    formed_ = whole(*input.formed);
    if (input.released != nullptr) released_ = whole(*input.released);
    before_ = input.formed_trimmed != nullptr ? whole(*input.formed_trimmed) : formed_;
  }

  void thinning(const Display& display) {
    const auto [value, at] = worst(input_.formed->thinning);
    const bool gathers = input_.formed->thinning.minCoeff() < -0.0005;
    FieldPicture picture;
    picture.caption =
        caption("thinning", fmt::format("{}, thinned by {:.1f} % at worst, at {}{}", pressure(), 100 * value,
                                        words_of(at), gathers ? "; below zero: thicker" : ""));
    picture.scale_title = "thinning [%]";
    picture.node_values = 100 * nodal_average(formed_.triangles, formed_.positions, formed_.thinning);
    picture.scale_to = std::max(0.1, 100 * value);
    picture.mark = at;
    picture.mark_label = fmt::format("{:.1f} %", 100 * value);
    picture.tool = input_.tool;
    draw_field_picture(display, folder_ / "thinning.png", formed_, picture);
    figures.files.emplace_back("thinning.png");
  }

  void limit_share(const Display& display) {
    if (input_.limit.points.size() < 2 || formed_.limit_share.size() == 0) return;
    const Eigen::VectorXd shares = larger_shares(*input_.formed);
    const Extreme largest = worst(shares);
    const double straight = worst(input_.formed->limit_share).value;
    const bool by_path = !(largest.value <= straight);
    FieldPicture picture;
    picture.caption = caption(
        "share of the forming limit",
        used(shares, largest, by_path ? ", along the path taken" : "",
             by_path && !std::isnan(straight) ? fmt::format("; {:.0f} % on straight paths", 100 * straight)
                                              : ""));
    picture.scale_title = "share [%]";
    picture.node_values = 100 * nodal_average(formed_.triangles, formed_.positions, formed_.limit_share)
                                    .cwiseMin(1.0);  // beyond, the hatch speaks
    picture.scale_to = 100;
    picture.mark = largest.at;
    picture.mark_label = fmt::format("{:.0f} %", 100 * largest.value);
    picture.tool = input_.tool;
    draw_field_picture(display, folder_ / "limit_share.png", formed_, picture);
    figures.files.emplace_back("limit_share.png");
  }

  /// Small distances are drawn larger, by a round factor that the picture states.
  void release(const Display& display) {
    if (input_.released == nullptr) return;
    const Eigen::VectorXd distance = (released_.positions - before_.positions).rowwise().norm();
    Eigen::Index node = 0;
    const double largest = distance.maxCoeff(&node);
    const double visible = 0.04 * bounds(before_.positions).diagonal().norm();
    double factor = 1;
    for (const double larger : {2.0, 5.0, 10.0, 20.0, 50.0, 100.0})
      if (larger * largest <= visible) factor = larger;
    DrawnSheet drawn = released_;
    drawn.positions = before_.positions + factor * (released_.positions - before_.positions);
    drawn.limit_share.resize(0);
    FieldPicture picture;
    const Eigen::Vector3d at = before_.positions.row(node);
    picture.caption =
        caption("released over formed (grey)",
                fmt::format("after the best fit {:.2f} mm apart at most, at {}{}", largest, words_of(at),
                            factor > 1 ? fmt::format("; distances drawn {:.0f} times larger", factor) : ""));
    picture.scale_title = "distance [mm]";
    picture.node_values = distance;
    picture.mark = Eigen::Vector3d(drawn.positions.row(node));
    picture.mark_label = fmt::format("{:.2f} mm", largest);
    picture.reference = &before_;
    picture.look_from = along_bend();
    draw_field_picture(display, folder_ / "release.png", drawn, picture);
    figures.files.emplace_back("release.png");
  }

  void section() {
    SectionPicture picture;
    picture.plane = input_.section.value_or(choose_section(formed_));
    std::string found = fmt::format("{} = {:.1f} mm", picture.plane.axis == 0 ? "x" : "y",
                                    std::abs(picture.plane.at) < 0.05 ? 0.0 : picture.plane.at);
    for (const FlangeAngle& flange : input_.flanges)
      found += fmt::format(";  {}: formed {:.2f}°, released {:.2f}°", flange.name, degrees(flange.formed),
                           degrees(flange.released));
    picture.caption = caption("profile section", found);
    picture.formed = &formed_;
    if (input_.released != nullptr) picture.released = &released_;
    picture.tool = input_.tool;
    for (const char* name : {"section.png", "section.svg"}) {
      draw_section_picture(folder_ / name, picture);
      figures.files.emplace_back(name);
    }
  }

  void strains() {
    if (input_.limit.points.size() < 2) return;
    const Eigen::VectorXd& shares = input_.formed->limit_share;
    const Extreme largest = worst(shares);
    LimitChart chart;
    chart.caption =
        caption("strains against the forming limit", used(shares, largest, "", along_path(largest.value)));
    chart.strains = input_.formed->strain_mid;
    chart.limit_share = shares;
    chart.areas = triangle_areas(input_.formed->triangles, input_.formed->positions);
    chart.curve = input_.limit;
    for (const char* name : {"strains.png", "strains.svg"}) {
      draw_limit_chart(folder_ / name, chart);
      figures.files.emplace_back(name);
    }
  }

  Figures figures;

 private:
  [[nodiscard]] Caption caption(const std::string& what, const std::string& finding) const {
    return {input_.title.empty() ? what : input_.title + ": " + what, finding, input_.credential};
  }

  [[nodiscard]] std::string used(const Eigen::VectorXd& shares, const Extreme& largest,
                                 const std::string& how, const std::string& other) const {
    if (std::isnan(largest.value)) return fmt::format("{}, no path meets the limit: not judged", pressure());
    return fmt::format("{}, {:.0f} % of the limit used at worst{}, at {}{}{}", pressure(),
                       100 * largest.value, how, words_of(largest.at), other,
                       shares.array().isNaN().any() ? "; grey: not judged" : "");
  }

  /// The share along the path taken where it is the larger one: strains are drawn against the straight
  /// path's.
  [[nodiscard]] std::string along_path(double straight) const {
    const double share = worst(input_.formed->path_share).value;
    return share > straight ? fmt::format("; {:.0f} % along the path taken", 100 * share) : "";
  }

  /// The side view along the main bend, from a little above and aside, in which an opened flange shows best.
  [[nodiscard]] Eigen::Vector3d along_bend() const {
    Eigen::Vector3d from = view_side(formed_);
    from(1 - choose_section(formed_).axis) *= 0.45;
    from.z() *= 0.75;
    return from;
  }

  [[nodiscard]] DrawnSheet whole(const solver::SheetFields& fields) const {
    DrawnSheet sheet = take_sheet(fields);
    if (input_.symmetric_x) sheet = mirrored(sheet, 0);
    if (input_.symmetric_y) sheet = mirrored(sheet, 1);
    return sheet;
  }

  /// Largest value over the triangles and the middle of that triangle.
  [[nodiscard]] Extreme worst(const Eigen::VectorXd& values) const {
    Extreme extreme;
    for (Eigen::Index t = 0; t < values.size(); ++t)
      if (!(values(t) <= extreme.value) && !std::isnan(values(t))) {
        extreme.value = values(t);
        const auto corners = input_.formed->triangles.row(t);
        extreme.at = (input_.formed->positions.row(corners(0)) + input_.formed->positions.row(corners(1)) +
                      input_.formed->positions.row(corners(2))) /
                     3;
      }
    return extreme;
  }

  [[nodiscard]] std::string pressure() const {
    return fmt::format("{:.4g} MPa ({:.0f} psi)", input_.formed->pressure,
                       input_.formed->pressure * psi_per_mpa);
  }

  const std::filesystem::path& folder_;
  const FigureInput& input_;
  DrawnSheet formed_, released_;
  DrawnSheet before_;  // the formed part on the released one's mesh
};

}  // namespace

Figures draw_figures(const std::filesystem::path& folder, const FigureInput& input) {
  if (input.formed == nullptr) return {};
  Draughtsman draughtsman(folder, input);
  const Display display;
  if (display.available()) {
    draughtsman.thinning(display);
    draughtsman.limit_share(display);
    draughtsman.release(display);
  } else {
    draughtsman.figures.notes.push_back(display.reason());
  }
  draughtsman.section();
  draughtsman.strains();
  return draughtsman.figures;
}

}  // namespace halftool::io
