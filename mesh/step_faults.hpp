#pragma once
#include <string>

namespace halftool::mesh {

/// What a STEP file (ISO 10303-21) holds, and damage that its shape depends on: entities of geometry,
/// topology, units or transformation with values that are none, or that refer to what the file lacks or to
/// what is of the wrong kind. Names, colours, notes and dimensions may be what they are. On a few damaged
/// files the CAD kernel ends with a signal already here: see try_step_file.
struct StepLook {
  std::string damage;  ///< the first in words, with its line and how many more there are; empty: none
  int n_solids = 0;    ///< that the file describes
  int n_surfaces = 0;  ///< models of open surfaces, each of any number of faces
};

/// @return nothing found where the file cannot be read at all
StepLook look_at_step(const std::string& path);

}  // namespace halftool::mesh
