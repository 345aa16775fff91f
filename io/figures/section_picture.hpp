#pragma once
#include <filesystem>
#include <vector>

#include "io/figures/drawn_sheet.hpp"
#include "io/figures/frame.hpp"
#include "io/figures/section_cut.hpp"
#include "mesh/surface_mesh.hpp"

namespace halftool::io {

/// Cross-sections of one part in one plane. Null pointers are left out.
struct SectionPicture {
  Caption caption;
  SectionPlane plane;
  const DrawnSheet* formed = nullptr;  ///< needed
  const DrawnSheet* released = nullptr;
  const mesh::SurfaceMesh* tool = nullptr;
};

/// Formed and released cross-section in true thickness over the hatched tool half, equal scale on both axes.
/// PNG or SVG by the extension, 1600 px wide, as high as the section asks for. Needs no display.
/// @throws WriteError
void draw_section_picture(const std::filesystem::path& path, const SectionPicture& picture);

}  // namespace halftool::io
