#include "io/figures/part_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/results/nodal_average.hpp"

namespace halftool::io {
namespace {

constexpr int width = 1600;
constexpr int height = 1000;
constexpr Rgb tool_colour{0.88, 0.89, 0.90};
constexpr Rgb tool_edge{0.55, 0.56, 0.58};
constexpr Rgb sheet_edge{0.16, 0.16, 0.20};
constexpr Rgb reference_colour{0.45, 0.47, 0.50};

/// Of a tool half what stands above the tray floor.
Eigen::AlignedBox3d body_of(const mesh::SurfaceMesh& tool) {
  const Eigen::AlignedBox3d all = bounds(tool.nodes);
  Eigen::AlignedBox3d body;
  for (Eigen::Index n = 0; n < tool.n_nodes(); ++n)
    if (tool.nodes(n, 2) > all.min().z() + 1e-3 * all.sizes().z())
      body.extend(Eigen::Vector3d(tool.nodes.row(n)));
  return body;
}

/// The part of the tool worth showing: what lies under the sheet, with a border around it, and to the tool's
/// own sides where they are near; cut off short of them it would look hollow.
Eigen::AlignedBox3d tool_window(const DrawnSheet& sheet, const mesh::SurfaceMesh& tool) {
  const Eigen::AlignedBox3d part = bounds(sheet.positions);
  const double diagonal = part.diagonal().norm();
  const double border = 0.10 * diagonal;
  const double near = 0.30 * diagonal;
  Eigen::AlignedBox3d box(part.min() - Eigen::Vector3d::Constant(border),
                          part.max() + Eigen::Vector3d::Constant(border));
  const Eigen::AlignedBox3d body = body_of(tool);
  const double past = 0.01 * diagonal;
  for (int axis = 0; axis < 2 && !body.isEmpty(); ++axis) {
    if (part.min()(axis) - body.min()(axis) < near)
      box.min()(axis) = std::min(box.min()(axis), body.min()(axis) - past);
    if (body.max()(axis) - part.max()(axis) < near)
      box.max()(axis) = std::max(box.max()(axis), body.max()(axis) + past);
  }
  return box;
}

/// Corners of all that is to be seen.
mesh::Points corners_to_fit(const DrawnSheet& sheet, const FieldPicture& picture) {
  std::vector<Eigen::Vector3d> points;
  for (Eigen::Index n = 0; n < sheet.positions.rows(); ++n) points.emplace_back(sheet.positions.row(n));
  if (picture.reference != nullptr)
    for (Eigen::Index n = 0; n < picture.reference->positions.rows(); ++n)
      points.emplace_back(picture.reference->positions.row(n));
  if (picture.tool != nullptr) {
    const Eigen::AlignedBox3d shown =
        bounds(picture.tool->nodes).intersection(tool_window(sheet, *picture.tool));
    using Box = Eigen::AlignedBox3d;
    if (!shown.isEmpty())
      for (const auto corner :
           {Box::BottomLeftFloor, Box::BottomRightFloor, Box::TopLeftFloor, Box::TopRightFloor,
            Box::BottomLeftCeil, Box::BottomRightCeil, Box::TopLeftCeil, Box::TopRightCeil})
        points.push_back(shown.corner(corner));
  }
  mesh::Points all(static_cast<Eigen::Index>(points.size()), 3);
  for (std::size_t i = 0; i < points.size(); ++i) all.row(static_cast<Eigen::Index>(i)) = points[i];
  return all;
}

/// Small arrows of x, y and z at the lower left, as the camera sees them.
void draw_triad(Canvas& canvas, const Camera& camera) {
  const Eigen::Vector2d origin(96, height - 128);
  const Rgb colour{0.25, 0.25, 0.28};
  const char* names[3] = {"x", "y", "z"};
  for (int axis = 0; axis < 3; ++axis) {
    const Eigen::Vector3d unit = Eigen::Vector3d::Unit(axis);
    const Eigen::Vector2d way(unit.dot(camera.right), -unit.dot(camera.up));
    if (way.norm() < 0.1) continue;
    const Eigen::Vector2d tip = origin + 46 * way;
    canvas.line({origin, tip}, {colour, 2.2, {}});
    const Eigen::Vector2d back = -9 * way.normalized();
    const Eigen::Vector2d side = 4 * Eigen::Vector2d(-back.y(), back.x()) / 9;
    canvas.fill({tip + 0.3 * -back, tip + back + side, tip + back - side}, colour);
    canvas.text(tip + 14 * way.normalized() + Eigen::Vector2d(0, 6), names[axis],
                {.size = 18, .bold = true, .colour = colour, .anchor = Anchor::centre});
  }
}

/// The border of a sheet's pad face as a thin line over everything, so that it shows where it is hidden.
void draw_border(Canvas& canvas, const Camera& camera, const DrawnSheet& sheet) {
  const Surface solid = thick_surface(sheet, sheet.triangles);
  for (const auto& [a, b] : border_edges(sheet.triangles))
    canvas.line({camera.project(solid.points.row(a)), camera.project(solid.points.row(b))},
                {reference_colour, 1.6, {}});
}

std::vector<Surface> gather_surfaces(const DrawnSheet& sheet, const FieldPicture& picture,
                                     const std::vector<double>& scale) {
  std::vector<Surface> surfaces;
  if (picture.tool != nullptr) {
    Surface tool{.points = picture.tool->nodes, .triangles = picture.tool->triangles};
    tool.colour = tool_colour;
    tool.edge_width = 1.2;
    tool.edge_colour = tool_edge;
    tool.clip = tool_window(sheet, *picture.tool);
    surfaces.push_back(std::move(tool));
  }
  Surface part = thick_surface(sheet, sheet.triangles);
  const double low = scale.front(), high = scale.back();
  const Eigen::VectorXd shares = (picture.node_values.array() - low) / (high - low);
  part.shares.resize(2 * shares.size());
  part.shares << shares, shares;
  part.edge_width = 1.3;
  part.edge_colour = sheet_edge;
  surfaces.push_back(std::move(part));
  Surface over = thick_surface(sheet, triangles_over(sheet), 1.06);
  over.hatched = true;
  surfaces.push_back(std::move(over));
  if (picture.reference != nullptr) {
    Surface reference{.points = picture.reference->positions, .triangles = picture.reference->triangles};
    reference.colour = reference_colour;
    reference.opacity = 0.28;
    surfaces.push_back(std::move(reference));
  }
  return surfaces;
}

}  // namespace

Eigen::Vector3d view_side(const DrawnSheet& sheet) {
  const mesh::Points normals = nodal_normals(sheet.triangles, sheet.positions);
  const Eigen::RowVector3d lean = normals.colwise().mean();
  // From the right and the front unless the part folds down on the other sides.
  const double x = lean.x() < -0.02 ? -0.80 : 0.80;
  const double y = lean.y() > 0.02 ? 0.62 : -0.62;
  // Into a part pressed into a cavity, whose sides face inwards, from higher up.
  const mesh::Points outward = sheet.positions.rowwise() - sheet.positions.colwise().mean();
  const bool hollow = (normals.leftCols<2>().cwiseProduct(outward.leftCols<2>())).sum() < 0;
  return Eigen::Vector3d(x, y, hollow ? 1.15 : 0.62).normalized();
}

void draw_field_picture(const Display& display, const std::filesystem::path& path, const DrawnSheet& sheet,
                        const FieldPicture& picture) {
  double low = picture.scale_from, high = picture.scale_to;
  for (const double value : picture.node_values)
    if (std::isfinite(value)) {
      low = std::min(low, value);
      high = std::max(high, value);
    }
  if (high - low < 1e-9 * std::max(1.0, std::abs(high))) high = low + 1;
  const std::vector<double> scale = ticks(low, high, 6);
  const Camera camera = aim(picture.look_from.value_or(view_side(sheet)), corners_to_fit(sheet, picture),
                            width, height, {Eigen::Vector2d(70, 140), Eigen::Vector2d(1330, 900)});
  Canvas canvas(path, width, height);
  canvas.lay(render(display, gather_surfaces(sheet, picture, scale), camera));
  if (picture.reference != nullptr) draw_border(canvas, camera, *picture.reference);
  draw_caption(canvas, picture.caption);
  draw_triad(canvas, camera);
  const bool any_over = triangles_over(sheet).rows() > 0;
  draw_colour_bar(canvas, {picture.scale_title, scale, any_over},
                  {Eigen::Vector2d(1392, 220), Eigen::Vector2d(1426, 780)});
  if (picture.mark) {
    const Eigen::Vector2d at = camera.project(*picture.mark);
    draw_mark(canvas, at);
    if (!picture.mark_label.empty()) draw_label(canvas, at, picture.mark_label);
  }
  canvas.save();
}

}  // namespace halftool::io
