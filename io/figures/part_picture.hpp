#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <optional>
#include <string>

#include "io/figures/display.hpp"
#include "io/figures/drawn_sheet.hpp"
#include "io/figures/frame.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::io {

/// A field drawn on the sheet in three dimensions.
struct FieldPicture {
  Caption caption;
  std::string scale_title;                   ///< of the colour bar, with the unit
  Eigen::VectorXd node_values;               ///< (n_nodes) in the unit of the scale
  double scale_from = 0;                     ///< the bar starts no higher
  double scale_to = 0;                       ///< the bar ends no lower
  std::optional<Eigen::Vector3d> mark;       ///< ring around this place [mm]
  std::string mark_label;                    ///< words beside the ring
  const mesh::SurfaceMesh* tool = nullptr;   ///< drawn beneath in light grey
  const DrawnSheet* reference = nullptr;     ///< drawn through in translucent grey
  std::optional<Eigen::Vector3d> look_from;  ///< direction to the eye; default from view_side
};

/// The formed or released part coloured by a field, with scale, axes and caption; places over the forming
/// limit are hatched. PNG, 1600 x 1000.
/// @pre display.available()
/// @throws WriteError
void draw_field_picture(const Display& display, const std::filesystem::path& path, const DrawnSheet& sheet,
                        const FieldPicture& picture);

/// Direction to the eye from which the folded sides of the part are seen, above the horizon.
Eigen::Vector3d view_side(const DrawnSheet& sheet);

}  // namespace halftool::io
