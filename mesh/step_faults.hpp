#pragma once
#include <string>

namespace halftool::mesh {

/// Damage in a STEP file (ISO 10303-21) that its shape depends on: entities of geometry, topology, units or
/// transformation with values that are none, or that refer to what the file lacks or to what is of the wrong
/// kind. Names, colours, notes and dimensions may be what they are. On a few damaged files the CAD kernel
/// ends with a signal already here: see try_step_file.
/// @return the first in words, with its line and how many more there are; empty: none, or no file that can be
/// read at all
std::string find_step_faults(const std::string& path);

}  // namespace halftool::mesh
