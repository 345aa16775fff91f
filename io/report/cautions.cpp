#include "io/report/cautions.hpp"

namespace halftool::io {

// Common practice of high-pressure work; the standards named are for the reader to look up in their current
// edition.
std::vector<std::string> cautions() {
  return {
      {"This computation clears neither tool, press nor part. Local codes and a competent, licensed person "
       "decide."},
      {"Fluid under pressure injects: a leaking diaphragm or seal can drive fluid through skin, often "
       "without pain at first. Treat any injection as an emergency and go to hospital at once."},
      {"Compressed fluid and a stretched press store energy. Take the pressure down and lock out before "
       "opening (ISO 12100, ISO 16092-3, and the rules of your country)."},
      {"A tool half can burst: the screens of walls and rings are no computation of its strength. Have "
       "walls, bosses, "
       "inserts and castings approved before loading."},
      {"Sharp edges facing the diaphragm puncture it, and cut blanks and springing parts cut hands: deburr, "
       "cover, wear gloves."},
  };
}

}  // namespace halftool::io
