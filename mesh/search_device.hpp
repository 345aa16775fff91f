#pragma once
#include <memory>

struct RTCDeviceTy;  // Embree's

namespace halftool::mesh {

/// The one Embree device of the process, of one thread: the library refuses to open more than about a
/// thousand at once.
/// @throws MeshError  if it cannot be opened
std::shared_ptr<RTCDeviceTy> search_device();

}  // namespace halftool::mesh
