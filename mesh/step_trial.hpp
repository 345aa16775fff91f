#pragma once
#include <functional>
#include <string>

#include "mesh/step_faults.hpp"

namespace halftool::mesh {

/// What to do about a STEP file that is no good, for the end of messages.
inline constexpr const char* step_mend = "export it again from CAD, as a solid in STEP AP214 or AP242";

/// Tries a STEP file (ISO 10303-21) before this process reads it, for the CAD kernel ends with a signal on
/// some damaged files. A child process reads it, looks for entities of shape, units or transformation that
/// are damaged, and goes the way that the caller is going to go; its end by a signal becomes an error here.
/// Costs as much as reading the file twice. An unreadable file passes: the caller's own reader tells of it.
/// @param import  what the caller does with the file; what it throws passes as well
/// @return what the child saw, without damage
/// @throws MeshError  damaged entities, the first with its line; an end by a signal; more processor time than
///                    20 seconds and 30 a megabyte. File and mend named
StepLook try_step_file(const std::string& path, const std::function<void()>& import);

}  // namespace halftool::mesh
