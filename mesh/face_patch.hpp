#pragma once
#include <array>
#include <optional>

#include "mesh/gmsh_session.hpp"

namespace halftool::mesh {

/// Two pairs of opposite curves round a face; of a ring between two closed curves these, then its seam twice.
using OppositeSides = std::array<std::array<int, 2>, 2>;

/// The sides of a face of the current model; nothing where it has others. Call within GmshSession::run.
std::optional<OppositeSides> opposite_sides(int surface);

/// A CAD face of the current model that can be laid out in rows and columns.
struct FacePatch {
  int surface = 0;
  OppositeSides sides{};
  /// Turn of the face's normal along each pair [rad]: of so many equal parts as the sharpest.
  std::array<double, 2> turn{};
};

/// The face as a patch; nothing where it has other sides, where its parameters fold over between them, or
/// where it has no normal. Call within GmshSession::run.
std::optional<FacePatch> find_patch(int surface);

/// Fills a patch with rows of facets between its meshed sides. Call within GmshSession::run.
/// @param n_rows  of a ring, from one closed curve to the other
/// @throws MeshError  opposite sides have different numbers of edges
void lay_patch(const FacePatch& patch, int n_rows);

}  // namespace halftool::mesh
