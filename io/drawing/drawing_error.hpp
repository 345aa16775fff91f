#pragma once
#include <stdexcept>
#include <string>
#include <utility>

namespace halftool::io {

/// What keeps a drawing from giving a blank.
struct DrawingFault {
  std::string key;      ///< of the table [blank] that is at fault: "drawing", "step", "layer", "length_unit"
  std::string found;    ///< what stands there
  std::string allowed;  ///< what may stand there
  std::string mend;     ///< one action to take
};

/// A drawing that gives no blank.
class DrawingError : public std::runtime_error {
 public:
  explicit DrawingError(DrawingFault fault) : std::runtime_error(fault.found), fault_(std::move(fault)) {}
  [[nodiscard]] const DrawingFault& fault() const { return fault_; }

 private:
  DrawingFault fault_;
};

}  // namespace halftool::io
