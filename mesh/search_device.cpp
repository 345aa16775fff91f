#include "mesh/search_device.hpp"

#include <embree3/rtcore.h>

#include "mesh/surface_mesh.hpp"

namespace halftool::mesh {

std::shared_ptr<RTCDeviceTy> search_device() {
  static const std::shared_ptr<RTCDeviceTy> device(rtcNewDevice("threads=1,set_affinity=0"),
                                                   [](RTCDevice opened) {
                                                     if (opened != nullptr) rtcReleaseDevice(opened);
                                                   });
  if (device == nullptr) throw MeshError("searches in space could not be set up (Embree device)");
  return device;
}

}  // namespace halftool::mesh
