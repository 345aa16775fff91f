#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "io/figures/limit_chart.hpp"
#include "io/figures/section_cut.hpp"
#include "io/results/summary.hpp"
#include "mesh/surface_mesh.hpp"
#include "solver/result.hpp"

namespace halftool::io {

/// What there is to draw. Null pointers are states that the job did not reach.
struct FigureInput {
  std::string title;                                    ///< of the case
  std::string credential;                               ///< foot of every picture
  const solver::SheetFields* formed = nullptr;          ///< needed for any picture
  const solver::SheetFields* released = nullptr;        ///< best-fitted to the formed part
  const solver::SheetFields* formed_trimmed = nullptr;  ///< as in ResultInput
  const mesh::SurfaceMesh* tool = nullptr;
  bool symmetric_x = false;             ///< the sheet is the half at x >= 0: draw the whole
  bool symmetric_y = false;             ///< likewise at y >= 0
  LimitCurve limit;                     ///< no points: no limit chart
  std::optional<SectionPlane> section;  ///< default from choose_section
  std::vector<FlangeAngle> flanges;     ///< said under the section
};

struct Figures {
  std::vector<std::string> files;  ///< names written into the folder
  std::vector<std::string> notes;  ///< why a picture is missing, one line each
};

/// Draws thinning.png, limit_share.png, release.png, section.png and .svg, strains.png and .svg into the
/// folder, which must exist. Without a display the rendered ones (the first three) are left out, with a note.
/// @throws WriteError
Figures draw_figures(const std::filesystem::path& folder, const FigureInput& input);

}  // namespace halftool::io
